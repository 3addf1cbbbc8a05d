// Readings as they stand on the meter, and what was measured with and without a loudspeaker.
#include "tests/cli/inn.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Example I: a line of 70.7 V with one loudspeaker whose tap nobody knows, and what else hangs there.
struct ReadInn : Inn {
    ReadInn() : Inn({"limit_w=200", "emergency=no"}) {
        run(0, {"add", file, "speaker_type", "id=t1", "name=Six inch", "taps_w=2.5;5;10"});
        run(0, {"add", file, "point", "id=p1", "kind=speaker", "label=C-104", "fed_from=Old wing", "type=Six inch",
                "origin=existing"});
        run(0, {"add", file, "point", "id=p2", "kind=splice", "label=J-1", "fed_from=z1"});
    }
    // The last reading there is.
    Value reading() const { return json().find("readings").list()->back(); }
};

}  // namespace

TEST_CASE("readings_are_taken_as_meters_show_them") {
    const ReadInn site;
    const struct {
        const char* text;
        double value;
    } figures[] = {{"ohms=138 Ω", 138},    {"ohms=138ohm", 138},   {"ohms=1k2", 1200},       {"dc_ohms=4R7", 4.7},
                   {"ohms=65,0", 65},      {"ohms=1.2 kΩ", 1200},  {"earth_ohms=40M", 40e6}, {"earth_ohms=40 MΩ", 40e6},
                   {"dc_ohms=0.8 Ω", 0.8}, {"stray_v=0.4 V", 0.4}, {"stray_v=350 mV", 0.35}, {"level_dba=72 dB(A)", 72},
                   {"volts=70.7", 70.7}};
    for (const auto& figure : figures) {
        CAPTURE(figure.text);
        site.run(0, {"read", site.file, "z1", figure.text});
        CHECK(*site.reading().find("value").number() == doctest::Approx(figure.value));
        CHECK(site.reading().find("over_range").is_null());
    }
    for (const char* wrong : {"ohms=138 V", "ohms=1,200", "stray_v=3 Ω", "ohms=O", "ohms=-5"})
        CHECK(has(site.run(2, {"read", site.file, "z1", wrong}).err, std::string(wrong).substr(0, 4)));
}

TEST_CASE("ol_is_over_range_and_no_figure") {
    const ReadInn site;
    for (const char* shown : {"ohms=OL", "ohms=O.L", "ohms=ol", "ohms=OVER", "earth_ohms=OVLD", "earth_ohms=O.L MΩ"}) {
        CAPTURE(shown);
        site.run(0, {"read", site.file, "z1", shown, "range_ohm=40M", "meter_pct=1"});
        CHECK(site.reading().find("over_range") == Value(true));
        CHECK(site.reading().find("value").is_null());
        CHECK(*site.reading().find("range_ohm").number() == 40e6);
        CHECK(*site.reading().find("meter_pct").number() == 1);
    }
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=OL", "over_range=no"}).err, "given twice"));
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=60", "colour=red"}).err, "range_ohm, meter_pct"));
}

TEST_CASE("example I on the command line: with and without a loudspeaker") {
    const ReadInn site;
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=65.0", "--without", "C-104"}).err,
              "has no valid reading with"));
    site.run(0, {"read", site.file, "Old wing", "ohms=60.0", "isolated=yes", "meter_pct=1"});
    const std::string before = site.run(0, {"export", site.file, "-"}).out;
    const std::vector<std::string> call{"read",         site.file,   "z1",    "ohms=65.0",
                                        "isolated=yes", "--without", "C-104", "--json"};
    // The other reading says nothing of its meter, so 3 % hold for both.
    const Value coarse = json_of(site.run(0, call)).find("between");
    CHECK(*coarse.find("watts").number() == doctest::Approx(6.41).epsilon(0.001));
    CHECK(*coarse.find("error_w").number() == doctest::Approx(3.40).epsilon(0.005));
    CHECK(coarse.find("proposed_w").is_null());
    std::vector<std::string> fine_call = call;
    fine_call.insert(fine_call.begin() + 4, "meter_pct=1");
    const Value fine = json_of(site.run(0, fine_call)).find("between");
    CHECK(*fine.find("error_w").number() == doctest::Approx(1.13).epsilon(0.005));
    CHECK(*fine.find("proposed_w").number() == 5);
    const List& taps = *fine.find("taps").list();
    REQUIRE(taps.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) CHECK(taps[i].find("within") == Value(i == 1));
    fine_call.pop_back();
    const Ran text = site.run(0, fine_call);
    CHECK(has(text.out, "Of its taps only 5 W fits"));
    CHECK(has(text.out, "tap_w=5`"));
    CHECK(has(text.out, "Nothing was saved."));
    CHECK(site.run(0, {"export", site.file, "-"}).out == before);  // the line was not as recorded
}

TEST_CASE("what cannot be compared is refused, and says why") {
    const ReadInn site;
    site.run(0, {"read", site.file, "z1", "ohms=60.0", "isolated=yes"});
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=65", "--without", "J-1"}).err, "J-1 is no loudspeaker"));
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=65", "--without", "C-105"}).err, "C-104"));
    CHECK(has(site.run(2, {"read", site.file, "z1", "ohms=65", "isolated=no", "--without", "C-104"}).err,
              "cannot be used"));
    CHECK(has(site.run(2, {"read", site.file, "z1", "dc_ohms=65", "--without", "C-104"}).err, "cannot be used"));
}

TEST_CASE("a_reading_at_a_frequency_that_shows_no_taps_is_never_sent_back_to_it") {
    const Inn inn;
    inn.run(0, {"add", inn.file, "point", "kind=speaker", "label=L-1", "tap_w=6", "fed_from=z1"});
    const auto said = [&](const std::string& usual, const std::vector<std::string>& more) {
        inn.run(0, {"set", inn.file, "job", "test_hz=" + usual});
        std::vector<std::string> call{"read", inn.file, "z1", "ohms=800", "isolated=yes", "dry"};
        call.insert(call.end(), more.begin(), more.end());
        return inn.run(0, call).out;
    };
    for (const char* usual : {"20", "200000"}) CHECK(has(said(usual, {}), "Measure at 1 kHz."));
    CHECK(has(said("400", {"hz=50"}), "Measure at 400 Hz."));
}
