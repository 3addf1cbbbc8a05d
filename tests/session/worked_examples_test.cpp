// The worked examples of what readings show, step by step as on site: what a session writes down by itself (what was
// expected, what was found and by which reading), and that a file brings the same figures back.
#include <doctest/doctest.h>

#include "core/exchange/job_json.h"
#include "core/words/words.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

doctest::Approx near(double value, double relative = 1e-9) {
    return doctest::Approx(value).epsilon(relative);
}

// A zone of 100 V with `count` loudspeakers of 6 W that hang.
class ExampleSite {
public:
    ExampleSite(double limit_w, int count) {
        ChangeList changes{set(Kind::job, "job", {{"name", "Mill House"}, {"line_v", 100.0}}),
                           add(Kind::amplifier, "amp", {{"name", "Amplifier"}, {"rated_w", 200.0}}),
                           add(Kind::channel, "out", {{"name", "Output"}, {"amplifier", "amp"}, {"rated_w", 200.0}}),
                           add(Kind::zone, "z", {{"name", "Zone"}, {"channel", "out"}, {"limit_w", limit_w}}),
                           add(Kind::speaker_type, "s", {{"name", "Ceiling"}, {"taps_w", List{2.5, 6.0, 10.0}}})};
        for (int i = 1; i <= count; ++i)
            changes.push_back(speaker("p" + std::to_string(i), {{"tap_w", 6.0}, {"state", "fitted"}}));
        Result<Session> made = Session::create(folder_.file("a.tapjob"), command(changes), ana_, clock_.next());
        REQUIRE(made.ok());
        session_ = std::make_unique<Session>(std::move(*made));
    }

    static Change speaker(const std::string& id, Map more) {
        Map fields{{"kind", "speaker"}, {"label", id}, {"fed_from", "z"}, {"type", "s"}};
        fields.insert(fields.end(), more.begin(), more.end());
        return add(Kind::point, id, fields);
    }
    void keep(const Change& change) {
        const Result<Outcome> outcome = session_->request(command({change}), ana_, clock_.next());
        REQUIRE_MESSAGE(outcome.ok(), (outcome.ok() ? std::string() : in_english(outcome.refusal())));
    }
    void read(const std::string& id, double ohms, const std::optional<bool>& isolated = true) {
        Map fields{{"at", "z"}, {"quantity", "ohms"}, {"value", ohms}};
        if (isolated) fields.emplace_back("isolated", *isolated);
        keep(add(Kind::reading, id, fields));
    }
    const ZoneState& zone() const { return session_->derived().zones.at(0); }
    double headroom() const { return zone().margin.headroom.value().value(); }
    double unrecorded() const { return zone().margin.unrecorded.value(); }
    Verdict verdict(const std::string& id) const {
        return session_->derived().readings.at(*session_->job().place<Reading>(Id(id))).verdict;
    }
    const Point& point(const std::string& id) const { return *session_->job().find<Point>(Id(id)); }
    const Reading& reading(const std::string& id) const { return *session_->job().find<Reading>(Id(id)); }

    // Exports the job, imports it, and compares the figures of the zone.
    void brought_back_by_a_file() {
        const std::string text = write_job(session_->job());
        const Result<JobText> read = read_job(text, "job.json");
        REQUIRE(read.ok());
        const Command content{.changes = read->changes, .fill_in = false, .place = {}};
        const Result<Session> copy =
            Session::create(folder_.file("copy" + std::to_string(++copies_)), content, ana_, clock_.next());
        REQUIRE(copy.ok());
        CHECK(write_job(copy->job()) == text);
        const ZoneState& there = copy->derived().zones.at(0);
        CHECK(there.margin.load == zone().margin.load);
        CHECK(there.margin.unrecorded == zone().margin.unrecorded);
        CHECK(there.margin.headroom == zone().margin.headroom);
        CHECK(there.margin.headroom_recorded == zone().margin.headroom_recorded);
        CHECK(there.can_add == zone().can_add);
        CHECK(there.ohms == zone().ohms);
    }

private:
    TemporaryFolder folder_;
    Clock clock_;
    Author ana_{"Ana", ""};
    std::unique_ptr<Session> session_;
    int copies_ = 0;
};

}  // namespace

TEST_CASE("C: found loudspeakers use up what a reading showed; setting them to another tap does not") {
    ExampleSite site(100, 6);
    site.read("r1", 185.2);
    CHECK(site.reading("r1").expected_ohm.value().value() == near(10000 / 36.0));
    CHECK(site.verdict("r1") == Verdict::more_load);
    CHECK(site.unrecorded() == near(10000 / 185.2 - 36));
    CHECK(site.headroom() == near(26.0, 1e-3));
    site.keep(ExampleSite::speaker("n1", {{"tap_w", 6.0}, {"origin", "new"}}));
    site.keep(ExampleSite::speaker("n2", {{"tap_w", 6.0}}));
    CHECK_FALSE(site.point("n1").found_w);
    CHECK_FALSE(site.point("n2").found_w);
    CHECK(site.headroom() == near(14.0, 1e-3));
    site.brought_back_by_a_file();

    site.keep(ExampleSite::speaker("old", {{"tap_w", 6.0}, {"origin", "existing"}}));
    CHECK(site.point("old").found_w == Watts(6));
    CHECK(site.point("old").found_by == Id("r1"));
    CHECK(site.unrecorded() == near(12.0, 1e-3));
    CHECK(site.headroom() == near(14.0, 1e-3));
    site.brought_back_by_a_file();

    site.read("r2", 151.5);
    CHECK(site.reading("r2").expected_ohm.value().value() == near(10000 / 54.0));
    CHECK(site.verdict("r2") == Verdict::agrees);
    CHECK(site.headroom() == near(14.0, 1e-3));
    site.keep(set(Kind::point, "old", {{"tap_w", 10.0}}));
    CHECK(site.point("old").found_w == Watts(6));
    CHECK(site.point("old").found_by == Id("r1"));
    CHECK(site.headroom() == near(10.0, 1e-3));
    site.brought_back_by_a_file();
}

TEST_CASE("F: what is planned counts for the load, and not for what a reading should show") {
    ExampleSite site(100, 6);
    for (const char* id : {"n1", "n2", "n3", "n4"})
        site.keep(ExampleSite::speaker(id, {{"planned_tap_w", 6.0}, {"state", "planned"}}));
    CHECK(site.zone().margin.load == Watts(60));
    CHECK(site.headroom() == near(20));
    CHECK(site.zone().ohms.value() == near(10000 / 36.0));
    CHECK(site.zone().ohms_all.value() == near(10000 / 60.0));
    site.read("r1", 277);
    CHECK(site.verdict("r1") == Verdict::agrees);
    CHECK(site.headroom() == near(20));
    site.brought_back_by_a_file();
    // Its tap recorded, one hangs: no watts of the reading, and it was in the plan already.
    site.keep(set(Kind::point, "n1", {{"tap_w", 6.0}}));
    CHECK(site.point("n1").state == PointState::fitted);
    CHECK_FALSE(site.point("n1").found_w);
    CHECK(site.headroom() == near(20));
    CHECK(site.zone().ohms.value() == near(10000 / 42.0));
    site.brought_back_by_a_file();
}

TEST_CASE("G: a system nobody has records of, its loudspeakers found one by one") {
    ExampleSite site(60, 0);
    site.read("r1", 250);
    CHECK(site.reading("r1").expected_ohm == Ohms(1e9));
    CHECK(site.unrecorded() == near(40));
    CHECK(site.headroom() == near(8));
    CHECK(site.zone().can_add.value().value() == near(8));
    site.keep(ExampleSite::speaker("old", {{"origin", "existing"}}));
    CHECK_FALSE(site.point("old").found_w);
    CHECK(site.zone().margin.basis == Basis::at_least);
    CHECK(site.zone().can_add.value().value() == near(8));
    site.brought_back_by_a_file();
    site.keep(set(Kind::point, "old", {{"tap_w", 6.0}}));
    CHECK(site.point("old").found_w == Watts(6));
    CHECK(site.point("old").found_by == Id("r1"));
    CHECK(site.unrecorded() == near(34));
    CHECK(site.headroom() == near(8));
    site.keep(ExampleSite::speaker("new", {{"tap_w", 6.0}}));
    CHECK(site.headroom() == near(2));
    CHECK(site.zone().can_add.value().value() == near(2));
    site.brought_back_by_a_file();
}

TEST_CASE("H: a reading that proves nothing lowers nothing") {
    ExampleSite site(100, 6);
    site.read("r1", 400, false);
    CHECK(site.verdict("r1") == Verdict::not_judged);
    CHECK(site.headroom() == near(44));
    site.read("r2", 185.2);
    CHECK(site.headroom() == near(26.0, 1e-3));
    site.read("r3", 277.8, std::nullopt);
    CHECK(site.verdict("r3") == Verdict::agrees);
    CHECK(site.headroom() == near(26.0, 1e-3));
    site.brought_back_by_a_file();
    site.read("r4", 277.8);
    CHECK(site.headroom() == near(44));
    site.brought_back_by_a_file();
}

TEST_CASE("an unproven reading of more load is used up by what is found after it") {
    ExampleSite site(100, 6);
    site.read("r1", 185.2);
    site.read("r2", 10000 / 70.0, std::nullopt);
    CHECK(site.unrecorded() == near(34));
    for (const char* id : {"old1", "old2", "old3", "old4"}) {
        site.keep(ExampleSite::speaker(id, {{"tap_w", 6.0}, {"origin", "existing"}}));
        CHECK(site.point(id).found_by == Id("r2"));
        CHECK(site.headroom() == near(10));
    }
    CHECK(site.unrecorded() == near(10));
    site.brought_back_by_a_file();
}

TEST_CASE("what is found after an unproven reading of less stays found of the proven one") {
    ExampleSite site(100, 6);
    site.read("r1", 185.2);
    site.read("r2", 10000 / 51.0, std::nullopt);  // 15 W more than recorded: less than r1 shows
    CHECK(site.headroom() == near(26.0, 1e-3));
    site.keep(ExampleSite::speaker("old", {{"tap_w", 6.0}, {"origin", "existing"}}));
    CHECK(site.point("old").found_by == Id("r1"));
    CHECK(site.unrecorded() == near(12.0, 1e-3));
    CHECK(site.headroom() == near(26.0, 1e-3));
    site.brought_back_by_a_file();
}

TEST_CASE("a_new_loudspeaker_without_a_tap_made_headroom_known_after_an_export") {
    ExampleSite site(100, 6);
    site.read("r1", 277.8);
    CHECK(site.zone().can_add);
    site.keep(ExampleSite::speaker("new", {{"state", "fitted"}}));
    CHECK(site.point("new").found_w == Watts(0));
    CHECK_FALSE(site.zone().can_add);
    site.brought_back_by_a_file();
    CHECK_FALSE(site.zone().can_add);
    // Read again, it is inside; its tap, once looked up, is part of what was read.
    site.read("r2", 10000 / 46.0);
    CHECK(site.zone().can_add);
    CHECK(site.headroom() == near(34, 1e-3));
    site.keep(set(Kind::point, "new", {{"tap_w", 6.0}}));
    CHECK(site.headroom() == near(34, 1e-3));
    site.brought_back_by_a_file();
}

TEST_CASE("a_loudspeaker_found_without_a_tap_changed_an_old_reading_after_an_export") {
    ExampleSite site(100, 6);
    site.read("r1", 10000 / 38.0);  // 2 W more than recorded: it agrees, and nothing is unrecorded
    CHECK(site.verdict("r1") == Verdict::agrees);
    CHECK(site.headroom() == near(44));
    site.keep(ExampleSite::speaker("old", {{"origin", "existing"}}));
    CHECK(site.point("old").found_by == Id("r1"));
    CHECK_FALSE(site.point("old").found_w);
    CHECK(site.headroom() == near(44));
    site.brought_back_by_a_file();
}

TEST_CASE("a loudspeaker without a tap is no part of an unproven reading taken before it, in a file too") {
    for (const Map& origin : {Map{{"state", "fitted"}}, Map{{"origin", "existing"}}}) {
        ExampleSite site(100, 6);
        site.read("r1", 277.8);
        site.read("r2", 265, std::nullopt);
        CHECK(site.verdict("r2") == Verdict::agrees);
        CHECK(site.unrecorded() == near(0));
        site.keep(ExampleSite::speaker("later", origin));
        CHECK(site.point("later").found_by == Id("r2"));
        CHECK(site.verdict("r2") == Verdict::agrees);
        CHECK(site.unrecorded() == near(0));
        site.brought_back_by_a_file();
    }
}
