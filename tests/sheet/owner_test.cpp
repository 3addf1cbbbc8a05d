// What the owner's sheet holds, and what must never stand on it.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <regex>

#include "core/job/field_table.h"
#include "core/sheet/sheet.h"
#include "core/units/show.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

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
      "snags": [{"id": "n1", "text": "SECRET technician snag", "who": "SECRET fixer"}, {"id": "n2", "text": "SECRET private", "who": "SECRET private person", "share": "private"},
                {"id": "n3", "text": "Grille rattles", "who": "The fitter", "share": "owner", "opened": "2025-04-15"},
                {"id": "n4", "text": "SECRET closed", "who": "SECRET closer", "share": "owner", "state": "closed"}],
      "trials": [{"id": "tr1", "name": "SECRET trial", "changes": []}]})");
}

}  // namespace

TEST_CASE("what is for the trade alone never stands on the owner's sheet") {
    const std::string text = text_of(sheet_of(marked_job(), SheetReader::owner));
    CHECK(!has(text, "SECRET"));
    CHECK(!has(text, "password"));
    const auto open = table_of(sheet_of(marked_job(), SheetReader::owner), "Still to be done");
    REQUIRE(!open.rows.empty());
    CHECK(open.rows[0][0].text == "Grille rattles");
    CHECK(open.rows[0][1].text == "The fitter");
    CHECK(open.rows[0][2].text == "15 Apr 2025");
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
    const auto installed = blocks_of<document::Facts>(sheet);
    CHECK(std::any_of(installed.begin(), installed.end(), [](const document::Facts& facts) {
        return facts.facts.size() == 1 && facts.facts[0].value == "Hall: 1";
    }));
    const std::string text = text_of(sheet);
    CHECK(!has(text, "C-2"));
    CHECK(has(text, "Fitted: 1 loudspeaker on 1 line (zone)."));
    CHECK(has(text, "Hall: 1 loudspeaker planned, not fitted."));

    const std::string demo = text_of(sheet_of(demo_job(), SheetReader::owner));
    CHECK(!has(demo, "H-021"));
    CHECK(has(demo, "Workshop: 4 loudspeakers planned, not fitted."));
}

TEST_CASE("room by room: the control, its normal position, its amplifier, and what is heard with it down") {
    const auto rooms = table_of(sheet_of(marked_job(), SheetReader::owner), "Room by room");
    REQUIRE(rooms.rows.size() == 2);
    const auto texts = [&](std::size_t row) {
        std::vector<std::string> all;
        for (const auto& cell : rooms.rows[row]) all.push_back(cell.text);
        return all;
    };
    CHECK(texts(0) ==
          std::vector<std::string>{"Hall", "V-1", "\u22126 dB", "Amplifier", "Breaker 7", "heard on 8 Apr 2025"});
    CHECK(texts(1) ==
          std::vector<std::string>{"Hall", "Panel (Hall)", "not recorded", "Amplifier", "Breaker 7", "not recorded"});
}

TEST_CASE("a breaker of many words stands below the table, for the rows have no room for it") {
    Job job = marked_job();
    const auto set = [&](const char* breaker) {
        REQUIRE(job.set(Kind::amplifier, Id("a1"), *find_field(Kind::amplifier, "breaker"), Value(breaker)).ok());
    };
    const auto columns = [&] { return table_of(sheet_of(job, SheetReader::owner), "Room by room").columns.size(); };
    set("DB-2, breaker 7a");
    CHECK(columns() == 6);
    set("Distribution board in the cellar, breaker 7");
    CHECK(columns() == 5);
    CHECK(has(text_of(sheet_of(job, SheetReader::owner)),
              "Breaker: Distribution board in the cellar, breaker 7; Room: Hall"));
}

TEST_CASE("what can be added is rounded down, never negative, and asked for first where anything is unknown") {
    const Job job = demo_job();
    const auto sheet = sheet_of(job, SheetReader::owner);
    const auto table = table_of(sheet, "Spare watts, for your installer");
    const Derived derived = derive(job);
    REQUIRE(table.rows.size() == derived.zones.size());
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        const std::string& text = table.rows[i][1].text;
        CHECK(!has(text, "-"));
        CHECK(!has(text, "\u2212"));
        const ZoneState& zone = derived.zones[i];
        if (!zone.can_add) {
            CHECK(text == "ask first: its limit is not recorded");
        } else if (zone.margin.unrecorded.value() > 0) {
            CHECK(text == "ask first: 12.9 W on this line is not accounted for");
        } else if (*zone.can_add == Watts(0)) {
            CHECK(text == "full: nothing more may be added");
        } else {
            REQUIRE(text.starts_with("up to "));
            CHECK(std::stod(text.substr(6)) <= zone.can_add->value() + 1e-9);
            CHECK(std::stod(text.substr(6)) > zone.can_add->value() - 0.1);
        }
    }
    CHECK(table.rows[1][1].text == "full: nothing more may be added");  // the caf\u00e9, into its reserve
}

TEST_CASE("a line whose room has loudspeakers nobody traced is asked about first") {
    Job job = marked_job();
    REQUIRE(job.set(Kind::reading, Id("m1"), *find_field(Kind::reading, "value"), 2000.0).ok());
    const auto spare = [&] { return table_of(sheet_of(job, SheetReader::owner), "Spare watts").rows.at(0)[1].text; };
    CHECK(spare().starts_with("up to "));
    job.make(Kind::point, Id("lost"), MadeRank{0, 0, 0, 999});
    for (const auto& [field, value] :
         {std::pair("kind", "speaker"), {"label", "L-9"}, {"room", "r1"}, {"state", "fitted"}})
        REQUIRE(job.set(Kind::point, Id("lost"), *find_field(Kind::point, field), Value(value)).ok());
    CHECK(spare() == "ask first: not every loudspeaker here is traced");
}

TEST_CASE("every room with fitted loudspeakers says how many they are, and all the rooms together all of them") {
    const Job job = demo_job();
    const auto sheet = sheet_of(job, SheetReader::owner);
    std::size_t counted = 0;
    const std::string text = text_of(sheet);
    for (const Room& room : job.all<Room>()) {
        const auto points = job.all<Point>();
        const auto count = std::count_if(points.begin(), points.end(), [&](const Point& point) {
            return point.kind == PointKind::speaker && is_fitted(point) && point.room == room.id;
        });
        counted += static_cast<std::size_t>(count);
        CHECK(has(text, *room.name + ": " + std::to_string(count)) == (count > 0));
    }
    CHECK(counted == 80);
    CHECK(has(text, "Fitted: 80 loudspeakers on 8 lines (zones)."));
    CHECK(has(text, "No test recorded: bells (Amplifier 2) and 24 V override supply (Amplifier 2)."));
}

TEST_CASE("lines of which only some were measured are not ticked, and one line is shared with none") {
    const auto sheet = [](const char* second) {
        return sheet_of(job_of(std::string(R"({"tapwright_job": 1, "job": {"name": "House"},
            "zones": [{"id": "z1", "name": "Hall"})") +
                               second + R"(],
            "speaker_types": [{"id": "t", "name": "T", "taps_w": [5], "taps_v": 70.7}],
            "points": [{"id": "p", "kind": "speaker", "label": "C-1", "fed_from": "z1", "type": "t", "tap_w": 5}],
            "readings": [{"id": "m", "at": "z1", "quantity": "ohms", "value": 1000, "isolated": true,
                          "time": "2026-02-03T10:00:00Z"}]})"),
                        SheetReader::owner);
    };
    const auto tested = [](const document::Document& made) {
        return table_of(made, "What was tested").rows.at(0).at(1);
    };
    const document::Document one = sheet(""), two = sheet(R"(, {"id": "z2", "name": "Bar"})");
    CHECK(tested(one).text == "1 of 1, as recorded");
    CHECK(tested(one).tone == document::Tone::good);
    CHECK(tested(two).text == "1 of 2, as recorded");
    CHECK(tested(two).tone == document::Tone::note);
    CHECK_FALSE(has(text_of(one), "never add these up"));
    CHECK(has(text_of(two), "never add these up"));
}

TEST_CASE("what is to be heard and whose tap is to be seen leaves out what is not fitted or not connected") {
    const std::string text = text_of(sheet_of(job_of(R"({"tapwright_job": 1, "job": {"name": "House"},
        "rooms": [{"id": "r", "name": "Hall"}], "zones": [{"id": "z", "name": "Line"}],
        "points": [
          {"id": "a", "kind": "speaker", "label": "A-1", "room": "r", "fed_from": "z", "state": "fitted"},
          {"id": "b", "kind": "speaker", "label": "B-1", "room": "r", "fed_from": "z", "state": "planned"},
          {"id": "c", "kind": "speaker", "label": "E-1", "room": "r", "fed_from": "z", "state": "fitted",
           "wired": "off"}]})"),
                                              SheetReader::owner));
    CHECK(has(text, "Not yet listened to: A-1."));
    CHECK(has(text, "Tap not recorded: A-1."));
    CHECK(has(text, "Hall: 1 loudspeaker planned, not fitted."));
}

TEST_CASE("loudspeakers close to each other keep their names on the plan, apart, in any script") {
    for (const std::string prefix : {"M-", "\u039c-", "\u0633-"}) {
        std::string points;
        for (int k = 0; k < 6; ++k)
            points += std::string(k > 0 ? "," : "") + R"({"id": "p)" + std::to_string(k) +
                      R"(", "kind": "speaker", "room": "r", "state": "fitted", "y_m": 3, "label": ")" + prefix +
                      std::to_string(100 + k) + R"(", "x_m": )" + std::to_string(1 + 1.5 * k) + "}";
        const auto sheet = sheet_of(job_of(R"({"tapwright_job": 1, "job": {"name": "House"}, "rooms": [{"id": "r",
            "name": "Hall", "length_m": 11, "width_m": 7}], "points": [)" +
                                           points + "]}"),
                                    SheetReader::owner);
        std::vector<document::Drawing::Label> labels;
        for (const auto& figure : blocks_of<document::Figure>(sheet))
            for (const auto& label : std::get<document::Drawing>(figure.content).labels) labels.push_back(label);
        CAPTURE(prefix);
        CHECK(labels.size() == 6);
        for (const auto& one : labels)
            for (const auto& other : labels)
                if (&one != &other && std::abs(one.y - other.y) < one.size)
                    CHECK(std::abs(one.x - other.x) > one.size * 0.55 * 5);  // five signs of it
    }
}

TEST_CASE("what was tested names who was there that day, and when") {
    const auto tests = table_of(sheet_of(demo_job(), SheetReader::owner), "What was tested");
    REQUIRE(tests.rows.size() == 5);
    const auto row = [&](std::size_t k) {
        std::string all;
        for (const auto& cell : tests.rows[k]) all += (all.empty() ? "" : " | ") + cell.text;
        return all;
    };
    CHECK(row(0) ==
          "Lines measured | 8 of 9; differing: Foyer and Old wing | K. Ferrin and T. Obel | 8 Apr 2025 to 14 Oct "
          "2025");
    CHECK(row(1) == "Loudspeakers listened to | 78 of 80 fine; not: C-104 and H-172 | K. Ferrin | 8 Apr 2025");
    CHECK(row(2) == "Announcements, control down | 4 of 5 controls | K. Ferrin | 8 Apr 2025");
    CHECK(row(3) ==
          "Music muted by the fire alarm, paging and 24 V override supply (Amplifier 1) | seen to work | K. Ferrin | 8 "
          "Apr 2025");
}

TEST_CASE("what was not traced, tested or reached is said") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::owner));
    for (const char* const gap : {"Feed not known: L-235, L-236 and L-237.",
                                  "V-202 (Classroom 2): announcements with it down.", "Line not measured: Workshop.",
                                  "C-104 is silent since the summer", "more measured than recorded. Not found yet."})
        CHECK_MESSAGE(has(text, gap), gap);
}

TEST_CASE("amplifiers stand with their place and breaker, and the steps when there is no sound fit the system") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::owner));
    for (const char* const part :
         {"DB-2, breaker 7", "DB-2, breaker 9", "555-0142",
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
        REQUIRE(lines.size() == 1);
        CHECK(lines[0].name == "Odile Marsh");
        CHECK(lines[0].role == "for the owner");
        CHECK(lines[0].date == "3 Feb 2026, 16:40");
        CHECK(lines[0].strokes.size() == 1);
        CHECK(has(text_of(sheet), "Signed for the record as this sheet shows it"));
        CHECK(has(text_of(sheet), "Signed for an earlier state, not this sheet: Before (for the owner), 1 Feb 2026."));
        options.state = std::string(64, 'c');
        const document::Document later = sheet_of(job, options);
        CHECK(!has(text_of(later), "Signed for the record as this sheet shows it"));
        for (const auto& line : blocks_of<document::SignatureLine>(later)) {
            CHECK(line.name.empty());
            CHECK(line.strokes.empty());
        }
    }
}

TEST_CASE("earlier signatures are named with their date and not drawn, and there is room for new ones") {
    const auto sheet = sheet_of(demo_job(), SheetReader::owner);
    const auto lines = blocks_of<document::SignatureLine>(sheet);
    REQUIRE(lines.size() == 2);
    for (const auto& line : lines) CHECK((line.name.empty() && line.strokes.empty()));
    CHECK(
        has(text_of(sheet),
            "earlier state, not this sheet: K. Ferrin (for the contractor), 15 Apr 2025; M. Ostrand (for the house)"));
}

TEST_CASE("the next check is so many months after the last one, and the last day of a month stays one") {
    Job job = demo_job();
    CHECK(has(text_of(sheet_of(job, SheetReader::owner)), "14 Apr 2026"));
    REQUIRE(job.set(Kind::visit, Id("vis-6"), *find_field(Kind::visit, "date"), "2025-08-31").ok());
    CHECK(has(text_of(sheet_of(job, SheetReader::owner)), "28 Feb 2026"));
    REQUIRE(job.set(Kind::job, job_id(), *find_field(Kind::job, "check_months"), Value()).ok());
    CHECK(!has(text_of(sheet_of(job, SheetReader::owner)), "28 Feb 2026"));
}

TEST_CASE("what the owner is told to do is on the owner's sheet, and notes beside it are not") {
    Job job = marked_job();
    const auto set = [&](const char* field, Value value) {
        REQUIRE(job.set(Kind::job, job_id(), *find_field(Kind::job, field), std::move(value)).ok());
    };
    for (const char* const field :
         {"after_hours", "responsible", "instructed", "how_to_page", "how_to_source", "documents"})
        set(field, std::string("Told of ") + field);
    set("warranty_until", "2027-04-15");
    const std::string text = text_of(sheet_of(job, SheetReader::owner));
    for (const char* const field :
         {"after_hours", "responsible", "instructed", "how_to_page", "how_to_source", "documents"})
        CHECK_MESSAGE(has(text, std::string("Told of ") + field), std::string(field));
    CHECK(has(text, "15 Apr 2027"));
    CHECK(!has(text, "SECRET"));
}

}  // namespace tapwright
