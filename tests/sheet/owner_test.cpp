// What the owner's sheet holds, and what must never stand on it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <regex>

#include "core/sheet/sheet.h"
#include "core/units/show.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

bool has_word(const std::string& text, const std::string& word) {
    return std::regex_search(text, std::regex("\\b" + word + "\\b", std::regex::icase));
}

// A job in which every text that is for the trade alone carries a mark.
Job marked_job() {
    return job_of(R"({"tapwright_job": 1,
      "job": {"name": "House", "contact": "555-0142", "code_note": "SECRET code", "notes": "SECRET job"},
      "rooms": [{"id": "r1", "name": "Hall", "access": "SECRET access", "notes": "SECRET room"}],
      "amplifiers": [{"id": "a1", "name": "Amplifier", "room": "r1", "model": "SECRET model", "serial": "SECRET serial",
                      "breaker": "Breaker 7", "rated_w": 120, "notes": "SECRET amplifier"}],
      "channels": [{"id": "c1", "name": "A", "amplifier": "a1", "rated_w": 120, "notes": "SECRET channel"}],
      "zones": [{"id": "z1", "name": "Hall line", "channel": "c1", "limit_w": 100, "notes": "SECRET zone"}],
      "speaker_types": [{"id": "t1", "name": "Ceiling", "taps_w": [5, 10], "notes": "SECRET type"}],
      "attenuator_types": [{"id": "t2", "name": "Wall control", "rated_w": 30, "override": "energise",
                            "notes": "SECRET control type"}],
      "points": [{"id": "v1", "kind": "attenuator", "label": "V-1", "room": "r1", "fed_from": "z1", "type": "t2",
                  "knob_db": -6, "state": "tested", "override_tested": "2025-04-08", "notes": "SECRET knob"},
                 {"id": "p1", "kind": "speaker", "label": "C-1", "room": "r1", "fed_from": "v1", "type": "t1",
                  "planned_tap_w": 5, "tap_w": 10, "state": "tested", "serial": "SECRET", "notes": "SECRET point"},
                 {"id": "p2", "kind": "speaker", "label": "C-2", "room": "r1", "fed_from": "p1", "type": "t1",
                  "planned_tap_w": 5, "state": "planned"}],
      "controls": [{"id": "k1", "name": "Panel", "room": "r1", "governs": ["z1"], "notes": "SECRET panel"}],
      "interfaces": [{"id": "i1", "kind": "fire_mute", "amplifier": "a1", "tested": "2025-04-08", "notes": "SECRET mute"},
                     {"id": "i2", "kind": "paging", "amplifier": "a1"}],
      "settings": [{"id": "s1", "amplifier": "a1", "name": "Menu password", "value": "SECRET 1234"}],
      "visits": [{"id": "w1", "purpose": "handover", "date": "2025-04-15", "person": "SECRET person",
                  "notes": "SECRET visit"}],
      "readings": [{"id": "m1", "at": "z1", "quantity": "ohms", "value": 500, "notes": "SECRET reading",
                    "instrument": "SECRET meter"}],
      "snags": [{"id": "n1", "text": "SECRET technician snag"}, {"id": "n2", "text": "SECRET private", "share": "private"},
                {"id": "n3", "text": "Grille rattles", "share": "owner", "opened": "2025-04-15"},
                {"id": "n4", "text": "SECRET closed", "share": "owner", "state": "closed"}],
      "trials": [{"id": "tr1", "name": "SECRET trial", "changes": []}]})");
}

}  // namespace

TEST_CASE("what is for the trade alone never stands on the owner's sheet") {
    const std::string text = text_of(sheet_of(marked_job(), SheetReader::owner));
    CHECK(!has(text, "SECRET"));
    CHECK(!has(text, "password"));
    CHECK(has(text, "15 Apr 2025: Grille rattles"));
}

TEST_CASE("what is private stands on no sheet, the rest on the technician's") {
    const std::string text = text_of(sheet_of(marked_job(), SheetReader::technician));
    CHECK(!has(text, "SECRET private"));
    CHECK(!has(text, "SECRET trial"));
    for (const char* const shared : {"SECRET technician snag", "SECRET closed", "Grille rattles", "SECRET access",
                                     "SECRET 1234", "SECRET serial", "SECRET meter", "SECRET reading", "SECRET visit",
                                     "SECRET zone", "SECRET point", "SECRET knob", "SECRET panel"})
        CHECK_MESSAGE(has(text, shared), shared);
}

TEST_CASE("the owner's sheet passes no verdict that is not ours to give, and blames nobody") {
    for (const Job& job : {demo_job(), marked_job()}) {
        const std::string text = text_of(sheet_of(job, SheetReader::owner));
        for (const char* const word : {"safe", "safely", "safety", "compliant", "complies", "certified", "approved",
                                       "price", "cost", "rate", "fault", "blame", "wrong", "password", "pin"})
            CHECK_MESSAGE(!has_word(text, word), word);
        CHECK(has(text, "Not a fire or emergency system, and not a certificate of compliance."));
    }
}

TEST_CASE("planned is never shown as fitted") {
    const auto sheet = sheet_of(marked_job(), SheetReader::owner);
    const auto rooms = table_of(sheet, "Loudspeakers as fitted");
    REQUIRE(rooms.rows.size() == 1);
    CHECK(rooms.rows[0][4].text == "C-1");
    CHECK(rooms.rows[0][2].text == "10 W");
    const std::string text = text_of(sheet);
    CHECK(!has(text, "C-2"));
    CHECK(has(text, "Fitted: 1 loudspeaker on 1 line (zone)."));
    CHECK(has(text, "Hall: 1 loudspeaker planned, not fitted."));

    const std::string demo = text_of(sheet_of(demo_job(), SheetReader::owner));
    CHECK(!has(demo, "H-021"));
    CHECK(has(demo, "Workshop: 4 loudspeakers planned, not fitted."));
}

TEST_CASE("each volume control is listed with its room, what it governs, its normal position and its override") {
    const auto knobs = table_of(sheet_of(marked_job(), SheetReader::owner), "Volume controls");
    REQUIRE(knobs.rows.size() == 2);
    CHECK(knobs.rows[0][0].text == "V-1");
    CHECK(knobs.rows[0][1].text == "Hall");
    CHECK(knobs.rows[0][2].text == "\u22126 dB");
    CHECK(knobs.rows[0][3].text == "tested 8 Apr 2025");
    CHECK(knobs.rows[1][1].text == "Hall line");
}

TEST_CASE("what can be added is rounded down, never negative, and unknown is said with its reason") {
    const Job job = demo_job();
    const auto sheet = sheet_of(job, SheetReader::owner);
    const auto table = table_of(sheet, "Spare watts, for your installer (3 Feb 2026)");
    const Derived derived = derive(job);
    REQUIRE(table.rows.size() == derived.zones.size());
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const std::string& text = table.rows[i][2].text;
        CHECK(!has(text, "-"));
        CHECK(!has(text, "\u2212"));
        if (!derived.zones[i].can_add) {
            CHECK(text == "unknown");
            CHECK(table.rows[i][3].text == "its limit is not recorded");
        } else if (text != "nothing") {
            CHECK(std::stod(text.substr(6)) <= derived.zones[i].can_add->value() + 1e-9);
            CHECK(std::stod(text.substr(6)) > derived.zones[i].can_add->value() - 0.1);
        }
    }
    CHECK(table.rows[1][2].text == "nothing");  // the café, into its reserve
}

TEST_CASE("every fitted loudspeaker stands in its room with its tap as left") {
    const Job job = demo_job();
    const auto rooms = table_of(sheet_of(job, SheetReader::owner), "Loudspeakers as fitted");
    std::size_t labels = 0;
    for (const Point& point : job.all<Point>()) {
        if (point.kind != PointKind::speaker || point.state == PointState::planned || point.state == PointState::cabled)
            continue;
        ++labels;
        const auto row = std::find_if(rooms.rows.begin(), rooms.rows.end(), [&](const auto& cells) {
            return has_word(cells[4].text, *point.label) && cells[0].text.starts_with(name_of(job, point.room));
        });
        REQUIRE_MESSAGE(row != rooms.rows.end(), *point.label);
        CHECK((*row)[2].text == (point.tap_w ? show(*point.tap_w) : "tap not recorded"));
    }
    CHECK(labels == 80);
    const std::string text = text_of(sheet_of(job, SheetReader::owner));
    CHECK(has(text, "Tested on 8 Apr 2025: paging (Amplifier 1 and Amplifier 2)."));
    CHECK(has(text, "No test recorded: bells (Amplifier 2)."));
    CHECK(has(text, "No test recorded: 24 V override supply (Amplifier 2)."));
}

TEST_CASE("what was not traced, tested or reached is said") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::owner));
    for (const char* const gap : {"L-235, L-236 and L-237", "Announcements not tested with the control down: V-202.",
                                  "Line not measured: Workshop.", "C-104 in Foyer was silent at the last check.",
                                  "more measured than recorded. Not found yet."})
        CHECK_MESSAGE(has(text, gap), gap);
}

TEST_CASE("amplifiers stand with their place and breaker, and the steps when there is no sound fit the system") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::owner));
    for (const char* const part :
         {"Rack cupboard", "Board DB-2, breaker 7", "Board DB-2, breaker 9", "555-0142",
          "If the fire alarm is sounding, follow your fire procedure first.", "Make an announcement", "70.7 V"})
        CHECK_MESSAGE(has(text, part), part);
    const std::string bare =
        text_of(sheet_of(job_of(R"({"tapwright_job": 1, "job": {"name": "Bare"}})"), SheetReader::owner));
    CHECK(!has(bare, "fire alarm is sounding"));
    CHECK(!has(bare, "Make an announcement"));
}

TEST_CASE("who signed for the state the sheet shows stands on it as signed, others as before the record changed") {
    const std::string state(64, 'a'), other(64, 'b');
    const Job job = job_of(R"({"tapwright_job": 1, "job": {"name": "Mill House"}, "signoffs": [
        {"id": "o1", "name": "Before", "role": "for the owner", "time": "2026-02-01T09:05:00+01:00", "sheet": ")" +
                           other + R"("},
        {"id": "o2", "name": "Odile Marsh", "role": "for the owner", "time": "2026-02-03T16:40:00+01:00", "sheet": ")" +
                           state + R"(", "strokes": [[0.1, 0.5, 0.9, 0.5]]}]})");
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        SheetOptions options;
        options.reader = reader;
        options.time = "2026-02-03T17:00:00+01:00";
        options.state = state;
        const document::Document sheet = sheet_of(job, options);
        const auto lines = blocks_of<document::SignatureLine>(sheet);
        REQUIRE(lines.size() == 2);
        CHECK(lines[0].name == "Odile Marsh");
        CHECK(lines[0].role == "for the owner");
        CHECK(lines[0].date == "3 Feb 2026, 16:40");
        CHECK(lines[0].strokes.size() == 1);
        CHECK(lines[1].name == "Before");
        CHECK(has(text_of(sheet), "Signed for the record as this sheet shows it"));
        CHECK(has(text_of(sheet), "Signed before; the record has changed since"));
        options.state = std::string(64, 'c');
        CHECK(!has(text_of(sheet_of(job, options)), "Signed for the record as this sheet shows it"));
    }
}

TEST_CASE("earlier signatures keep their date and local time, and there is room for new ones") {
    const auto lines = blocks_of<document::SignatureLine>(sheet_of(demo_job(), SheetReader::owner));
    REQUIRE(lines.size() == 4);
    CHECK(lines[0].date == "15 Apr 2025, 11:30");
    CHECK(!lines[0].strokes.empty());
    CHECK(lines[2].name.empty());
    CHECK(lines[3].strokes.empty());
}

}  // namespace tapwright
