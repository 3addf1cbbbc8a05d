// Loads, headroom and what may be added. Trade arithmetic: common practice, no single source.
#include "core/calc/loads.h"

#include <doctest/doctest.h>

#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

doctest::Approx close_to(double value, double relative = 1e-9) {
    return doctest::Approx(value).epsilon(relative);
}

Watts load_of(const Job& job) {
    return derive(job).zones[0].margin.load;
}

}  // namespace

TEST_CASE("sums the trade does in its head") {
    CHECK(load_of(one_zone(70.7, 100).chain("p", 8, "z", 5)) == Watts(40));
    CHECK(load_of(one_zone(70.7, 100).chain("p", 12, "z", 5)) == Watts(60));
    CHECK(load_of(one_zone(70.7, 100).chain("p", 3, "z", 7.5)) == Watts(22.5));
    CHECK(load_of(one_zone(70.7, 100).speaker("a", "z", 30).speaker("b", "z", 15)) == Watts(45));
}

TEST_CASE("impedance from watts: V^2/P at 25, 70.7 and 100 V (Ohm's law)") {
    const double volts[] = {25, 25, 70.7, 70.7, 100, 100};
    const double taps[] = {1, 10, 5, 60, 6, 30};
    const double ohms[] = {625, 62.5, 999.698, 83.308166666666666, 1666.6666666666667, 333.33333333333333};
    for (std::size_t i = 0; i < 6; ++i)
        CHECK(derive(one_zone(volts[i], 100).speaker("p", "z", taps[i])).zones[0].ohms.value() == close_to(ohms[i]));
}

TEST_CASE("a tap on another line voltage than it is marked for (square law)") {
    const double marked[] = {70.7, 25, 70.7, 100, 100, 100};
    const double line[] = {25, 70.7, 100, 70.7, 50, 25};
    const double factor[] = {0.125037761403944, 7.997584000000002, 2.000604182463104, 0.4998490000000001, 0.25, 0.0625};
    for (std::size_t i = 0; i < 6; ++i) {
        JobBuilder job = one_zone(line[i], 100).speaker("p", "z", 1);
        job.set("speaker_type", "s", "taps_v", marked[i]);
        CHECK(load_of(job).value() == close_to(factor[i]));
    }
}

TEST_CASE("a tap that means watts delivered draws its transformer's loss on top") {
    JobBuilder job = one_zone(70.7, 100).speaker("p", "z", 10);
    job.set("speaker_type", "s", "tap_means", "delivered").set("speaker_type", "s", "xfmr_loss_db", 1.0);
    CHECK(load_of(job).value() == close_to(12.589254117941673));
    job.set("speaker_type", "s", "tap_means", "drawn");
    CHECK(load_of(job) == Watts(10));
}

TEST_CASE("the line voltage: the zone's, else the channel's, else the job's") {
    JobBuilder job = one_zone(70.7, 100);
    CHECK(derive(job).zones[0].line_v == Volts(70.7));
    job.set("channel", "out", "line_v", 100.0);
    CHECK(derive(job).zones[0].line_v == Volts(100));
    job.set("zone", "z", "line_v", 25.0);
    CHECK(derive(job).zones[0].line_v == Volts(25));
}

TEST_CASE("what a load rests on") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 2, "z", 5);
    CHECK(derive(job).zones[0].margin.basis == Basis::as_built);
    job.set("point", "p2", "tap_w", Value()).set("point", "p2", "planned_tap_w", 7.5);
    CHECK(derive(job).zones[0].margin.basis == Basis::planned);
    CHECK(load_of(job) == Watts(12.5));
    job.set("point", "p1", "tap_w", Value());
    Derived derived = derive(job);
    CHECK(derived.zones[0].margin.basis == Basis::at_least);
    CHECK(derived.zones[0].margin.load == Watts(7.5));
    CHECK_FALSE(derived.zones[0].can_add);
    job.set("point", "p1", "wired", "off");
    derived = derive(job);
    CHECK(derived.zones[0].margin.basis == Basis::planned);
    CHECK(derived.zones[0].speakers == 1);
}

TEST_CASE("what may be added is the least on the way, shared between zones") {
    JobBuilder job = one_zone(70.7, 100, 120);
    job.set("channel", "out", "rated_w", 100.0);
    job.add("zone", "z2", {{"channel", "out"}, {"limit_w", 60.0}});
    job.chain("p", 4, "z", 5).chain("q", 2, "z2", 10);
    const Derived derived = derive(job);
    CHECK(derived.zones[0].margin.headroom == Watts(60));
    CHECK(derived.channels[0].margin.headroom == Watts(40));
    CHECK(derived.amplifiers[0].margin.headroom == Watts(56));
    CHECK(derived.zones[0].can_add == Watts(40));
    CHECK(derived.zones[1].can_add == Watts(28));
}

TEST_CASE("what stands closest to its limit on the way: an output that is full counts before a zone with room") {
    // 100 W for the zone, a 120 W channel that another zone loads with 85 W.
    JobBuilder job = one_zone(70.7, 100);
    job.set("channel", "out", "rated_w", 120.0).set("amplifier", "amp", "rated_w", 500.0);
    job.add("zone", "y", {{"channel", "out"}, {"limit_w", 100.0}}).chain("q", 17, "y", 5).chain("p", 1, "z", 5);
    Derived derived = derive(job);
    Tightest tight = tightest_on_the_way(derived, 0);
    CHECK(tight.kind == Kind::channel);
    CHECK(tight.margin.headroom == Watts(120 * 0.8 - 90));
    CHECK(tightest_source(derived, 0)->kind == Kind::channel);
    CHECK(std::max(Watts(0), *tight.margin.headroom) == derived.zones[0].can_add);
    // Over a limit comes before into a reserve.
    job.set("zone", "z", "limit_w", 4.0);
    tight = tightest_on_the_way(derived = derive(job), 0);
    CHECK(tight.kind == Kind::zone);
    CHECK(tight.margin.over() == Watts(1));
    // What is not known says nothing; the zone itself stands where nothing is known.
    job.set("zone", "z", "limit_w", Value());
    CHECK(tightest_on_the_way(derive(job), 0).kind == Kind::zone);
    job.set("zone", "z", "channel", Value());
    CHECK_FALSE(tightest_source(derive(job), 0));
    CHECK(tightest_on_the_way(derive(job), 0).kind == Kind::zone);
}

TEST_CASE("unknown stays unknown, but a limit that is used up answers") {
    JobBuilder job = one_zone(70.7, 100);
    CHECK(derive(job).zones[0].can_add == Watts(80));
    SUBCASE("the zone's limit") {
        job.set("zone", "z", "limit_w", Value());
    }
    SUBCASE("the amplifier's rating, which its only channel has none to stand for") {
        job.set("amplifier", "amp", "rated_w", Value());
    }
    SUBCASE("the channel") {
        job.set("zone", "z", "channel", Value());
    }
    SUBCASE("the amplifier") {
        job.set("channel", "out", "amplifier", Value());
    }
    SUBCASE("a channel's rating, where the amplifier has another") {
        job.add("channel", "out2", {{"amplifier", "amp"}, {"rated_w", 60.0}});
    }
    SUBCASE("a tap") {
        job.speaker("p", "z", 5).set("point", "p", "tap_w", Value());
    }
    SUBCASE("the taps of another zone on the same amplifier") {
        job.add("zone", "z2", {{"channel", "out"}, {"limit_w", 100.0}});
        job.speaker("p", "z2", 5).set("point", "p", "tap_w", Value());
    }
    Derived derived = derive(job);
    CHECK_FALSE(derived.zones[0].can_add);
    // A zone that is full says 0 whatever else is unknown.
    job.set("zone", "z", "limit_w", 100.0).chain("q", 2, "z", 60);
    derived = derive(job);
    CHECK(derived.zones[0].can_add == Watts(0));
}

TEST_CASE("the rating of an only channel and its amplifier stand for each other") {
    JobBuilder job = one_zone(70.7, 100);
    job.set("amplifier", "amp", "rated_w", Value()).set("channel", "out", "rated_w", 50.0);
    const Derived derived = derive(job);
    CHECK(derived.zones[0].can_add == Watts(40));
    CHECK_FALSE(derived.amplifiers[0].margin.limit);
    CHECK_FALSE(derived.amplifiers[0].margin.headroom);
}

TEST_CASE("an attenuator's rating limits what may be added behind it, not before it") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 30.0}, {"steps_db", List{0.0, -6.0}}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
    job.chain("p", 2, "w", 5);
    job.speaker("before", "w", 5, {{"feed_side", "in"}});
    Derived derived = derive(job);
    CHECK(point_of(job, derived, "w").behind == Watts(10));
    CHECK(point_of(job, derived, "w").rating == Watts(30));
    CHECK(point_of(job, derived, "p2").can_add == Watts(20));
    CHECK(point_of(job, derived, "before").can_add == Watts(65));
    CHECK(derived.zones[0].can_add == Watts(65));

    job.set("attenuator_type", "a", "rated_v", 100.0);
    derived = derive(job);
    CHECK(point_of(job, derived, "w").rating->value() == close_to(21.21));
    job.set("attenuator_type", "a", "rated_w", Value());
    CHECK_FALSE(point_of(job, derive(job), "p2").can_add);
}

TEST_CASE("an L-pad's load is its largest draw over all steps") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a",
            {{"rated_w", 50.0}, {"steps_db", List{0.0, -6.0, -20.0}}, {"build", "l_pad"}, {"pad_ohm", 249.9245}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
    job.chain("p", 2, "w", 5);
    // 10 W hang behind a pad made for 20 W (249.9245 ohm): at 0 dB it draws 10 W; at -20 dB its own parts take most.
    const double behind_s = 10 / (70.7 * 70.7);
    const double series = 249.9245 * 0.9;
    const double across = behind_s + 9 / 249.9245;
    const double at_20_db = 70.7 * 70.7 * across / (1 + series * across);
    CHECK(load_of(job).value() == close_to(at_20_db));
    CHECK(at_20_db > 19);
    CHECK(point_of(job, derive(job), "w").behind == Watts(10));
}
