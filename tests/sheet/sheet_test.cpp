// The handover sheet as a document: complete for the technician, well-formed for every job, the same for the same
// input. What a handover record has to hold follows the topics of ANSI/INFOCOMM 10:2013 (zoning and impedance as
// documented, labels, documentation); the arrangement is ours.
#include "core/sheet/sheet.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/html/html.h"
#include "core/job/field_table.h"
#include "core/plan/survey.h"
#include "core/sheet/phrases.h"
#include "core/units/show.h"
#include "core/words/choices.h"
#include "core/words/words.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

void check_well_formed(const document::Document& document) {
    CHECK(!document.title.empty());
    for (const auto& heading : blocks_of<document::Heading>(document)) {
        CHECK(heading.level >= 1);
        CHECK(heading.level <= 3);
        CHECK(!heading.text.empty());
    }
    for (std::size_t i = 0; i < document.blocks.size(); ++i) {
        const auto* held = std::get_if<document::Table>(&document.blocks[i]);
        if (!held) continue;
        const document::Table& table = *held;
        // Without a caption it stands right below the heading that says what it is.
        REQUIRE(i > 0);
        CHECK((!table.caption.empty() || std::holds_alternative<document::Heading>(document.blocks[i - 1])));
        CHECK(!table.rows.empty());
        for (const auto& row : table.rows) CHECK_MESSAGE(row.size() == table.columns.size(), table.caption);
    }
    for (const auto& figure : blocks_of<document::Figure>(document)) CHECK(!figure.alternative.empty());
    for (const auto& bullets : blocks_of<document::Bullets>(document)) CHECK(!bullets.items.empty());
    const std::string text = text_of(document);
    CHECK(is_utf8(text));
    for (const char* const nonsense : {"unknown unknown", "recorded recorded", "nan", "inf ", "-0 ", "  W"})
        CHECK_MESSAGE(text.find(nonsense) == std::string::npos, nonsense);
}

// The row of a table whose first cell is `name`.
}  // namespace

TEST_CASE("the technician's sheet names every room, zone, point, type, visit and shared snag") {
    const std::string text = text_of(sheet_of(demo(), SheetReader::technician));
    const auto each_name = [&]<class R>() {
        for (const R& record : demo().all<R>()) CHECK_MESSAGE(has(text, name_of(demo(), record.id)), record.id.text());
    };
    each_name.operator()<Room>();
    each_name.operator()<Zone>();
    each_name.operator()<Point>();
    each_name.operator()<Amplifier>();
    each_name.operator()<SpeakerType>();
    each_name.operator()<AttenuatorType>();
    each_name.operator()<CableType>();
    each_name.operator()<Control>();
    for (const Visit& visit : demo().all<Visit>()) CHECK(has(text, *visit.notes));
    for (const Setting& setting : demo().all<Setting>()) CHECK(has(text, *setting.value));
    for (const Snag& snag : demo().all<Snag>()) CHECK(has(text, *snag.text) == (snag.share != Share::private_));
}

TEST_CASE("every point stands in its zone's schedule with its tap, cable, volts and watts") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    const Derived derived = derive(demo());
    std::size_t found = 0;
    for (std::size_t i = 0; i < demo().all<Point>().size(); ++i) {
        const Point& point = demo().all<Point>()[i];
        const PointOnLine& line = derived.points[i];
        if (!line.traced) continue;
        const auto table = table_of(sheet, "Points of " + name_of(demo(), demo().all<Zone>()[line.zone].id));
        const auto row = row_of(table, *point.label);
        REQUIRE_MESSAGE(!row.empty(), *point.label);
        const auto cell = [&](std::string_view title) { return cell_of(table, row, title); };
        ++found;
        CHECK(cell("Room") == name_of(demo(), point.room));
        if (point.planned_tap_w) CHECK(cell("Planned") == show(*point.planned_tap_w));
        if (point.tap_w) CHECK(cell("As left").starts_with(show(*point.tap_w)));
        CHECK(cell("Cable").starts_with(show(*point.length_m)));
        CHECK(cell("Volts") == show(line.volts));
        if (point.kind == PointKind::speaker) CHECK(cell("Watts") == show(line.watts));
    }
    CHECK(found == demo().all<Point>().size() - 3);
}

TEST_CASE("a zone's schedule is in feed order: no point before what feeds it") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    for (const Zone& zone : demo().all<Zone>()) {
        std::vector<std::string> seen = {name_of(demo(), zone.id)};
        const auto table = table_of(sheet, "Points of " + name_of(demo(), zone.id));
        for (const auto& row : table.rows) {
            const std::string from = cell_of(table, row, "Fed from");
            const std::string feed = from.substr(0, from.find(','));
            CHECK_MESSAGE(std::find(seen.begin(), seen.end(), feed) != seen.end(), row[0].text);
            seen.push_back(row[0].text);
        }
    }
    // What a wall control acts on comes before what is looped through at its input.
    const auto cafe = table_of(sheet, "Points of Café and kitchen");
    REQUIRE(cafe.rows.size() == 16);
    CHECK(cafe.rows[0][0].text == "V-121");
    CHECK(cafe.rows[1][0].text == "C-121");
    CHECK(cafe.rows[7][0].text == "V-122");
}

TEST_CASE("every reading stands with its figure, its verdict in words and its conditions") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    const Derived derived = derive(demo());
    std::size_t rows = 0;
    for (const auto& table : blocks_of<document::Table>(sheet))
        if (table.caption.starts_with("Readings")) rows += table.rows.size();
    CHECK(rows == demo().all<Reading>().size());
    const std::string text = text_of(sheet);
    for (std::size_t i = 0; i < derived.readings.size(); ++i) {
        const Reading& reading = demo().all<Reading>()[i];
        CHECK_MESSAGE(has(text, in_english(sheet::value_of(reading))), reading.id.text());
        if (reading.quantity == Measured::ohms)
            CHECK(has(text, in_english(as_title(sheet::words_for(derived.readings[i].verdict)))));
        if (reading.notes) CHECK(has(text, *reading.notes));
    }
    const auto foyer = table_of(sheet, "Readings on Foyer");
    CHECK(foyer.rows.back()[4].text == "Changed since the baseline");
    CHECK(foyer.rows.back()[6].text == "1 kHz; both conductors disconnected; Impedance meter, 1 kHz, no. M1");
}

TEST_CASE("a choice in a cell is a title, as on screen; within a sentence it is not") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    const auto first = [&](const char* caption, const char* column) {
        const auto table = table_of(sheet, caption);
        return table.rows.empty() ? std::string() : cell_of(table, table.rows[0], column);
    };
    CHECK(first("Snags, open ones first", "State") == "Open");
    CHECK(first("Interfaces and their tests", "What") == "Paging");
    CHECK(first("Who was on site", "Purpose") == "Survey");
    CHECK(first("Attenuators in the line", "Override") == "Relay pulls in to override; tested on 8 Apr 2025");
    CHECK(first("What is wrong or open", "Kind") == "Warning");
    CHECK(first("Load, limit and headroom", "Basis") == "As built");
    CHECK(has(text_of(sheet), "\nFull (0 dB)\n"));
    CHECK(table_of(sheet_of(demo(), SheetReader::owner), "What was tested").rows[4][0].text ==
          "Background music (Amplifier 1)");
}

TEST_CASE("the demo shows what it was made to show") {
    const Derived derived = derive(demo());
    CHECK(!derived.has_stop());
    const auto zone = [&](const char* id) { return derived.zones[*demo().place<Zone>(Id(id))]; };
    CHECK(zone("z-2").margin.headroom->value() < 0);
    CHECK(zone("z-2").margin.load < *zone("z-2").margin.limit);
    CHECK(zone("z-7").margin.unrecorded.value() > 5);
    CHECK(!zone("z-9").can_add);
    CHECK(zone("z-8").margin.basis == Basis::planned);
    for (std::size_t i = 0; i < derived.readings.size(); ++i) {
        const Reading& reading = demo().all<Reading>()[i];
        if (reading.quantity != Measured::ohms || !reading.baseline.value_or(false)) continue;
        CHECK_MESSAGE(derived.readings[i].verdict == Verdict::agrees, reading.id.text());
        // Scatter of 3 % was put on what an independent solution expected.
        CHECK(std::abs(*reading.value / derived.readings[i].expected->value() - 1) < 0.032);
    }
}

TEST_CASE("the load of each zone is drawn as a bar whose parts add up to it") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    const Derived derived = derive(demo());
    std::vector<document::Bar> bars;
    for (const auto& figure : blocks_of<document::Figure>(sheet))
        if (const auto* bar = std::get_if<document::Bar>(&figure.content)) bars.push_back(*bar);
    REQUIRE(bars.size() == derived.zones.size());
    for (std::size_t i = 0; i < bars.size(); ++i) {
        double recorded = 0;
        double hatched = 0;
        for (const auto& part : bars[i].parts) (part.hatched ? hatched : recorded) += part.amount;
        CHECK(recorded == doctest::Approx(derived.zones[i].margin.load.value()));
        CHECK(hatched == doctest::Approx(derived.zones[i].margin.unrecorded.value()));
        CHECK(bars[i].whole >= recorded + hatched);
        CHECK(bars[i].whole >= bars[i].limit);
    }
}

TEST_CASE("both sheets are well-formed, and equal input gives an equal document") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const auto sheet = sheet_of(demo(), reader);
        check_well_formed(sheet);
        CHECK(text_of(sheet) == text_of(sheet_of(demo_job(), reader)));
        CHECK(sheet.blocks.size() == sheet_of(demo_job(), reader).blocks.size());
        CHECK(sheet.created == "2026-02-03T00:00:00+01:00");
        for (const char* const part : {"Tarn Street Community House", "3 Feb 2026", "7f3a91c2", "128", "0.1.0"})
            CHECK(has(sheet.footer, part));
    }
}

TEST_CASE("jobs with next to nothing in them give a sheet that says so") {
    const char* const jobs[] = {
        R"({"tapwright_job": 1, "job": {"name": "Empty"}})",
        R"({"tapwright_job": 1, "job": {"name": "One zone"}, "zones": [{"id": "z1", "name": "Hall"}]})",
        R"({"tapwright_job": 1, "job": {"name": "One reading"}, "zones": [{"id": "z1", "name": "Hall"}],
            "readings": [{"id": "m1", "at": "z1", "quantity": "ohms", "value": 92.5}]})",
        R"({"tapwright_job": 1, "job": {"name": "No rooms"}, "zones": [{"id": "z1", "name": "Hall"}],
            "points": [{"id": "p1", "kind": "speaker", "label": "C-1", "fed_from": "z1"},
                       {"id": "p2", "kind": "attenuator", "label": "V-1"},
                       {"id": "p3", "kind": "splice", "label": "J-1", "fed_from": "p2"},
                       {"id": "p4", "kind": "speaker", "label": "C-2", "fed_from": "p3", "tap_w": 5}],
            "interfaces": [{"id": "i1", "kind": "paging"}], "controls": [{"id": "k1", "name": "Wall"}],
            "snags": [{"id": "s1", "text": "Loose", "share": "owner"}], "signoffs": [{"id": "o1", "name": "A"}]})",
        R"({"tapwright_job": 1, "job": {"name": "Rooms only", "units": "imperial"},
            "rooms": [{"id": "r1", "name": "Hall"}, {"id": "r2", "name": "Foyer", "order": 1, "height_m": 3.048}],
            "amplifiers": [{"id": "a1", "name": "Rack"}], "channels": [{"id": "c1", "name": "A"}]})",
        R"({"tapwright_job": 1, "job": {"name": "Low impedance"}, "channels": [{"id": "c1", "name": "A", "mode": "low_z"}],
            "zones": [{"id": "z1", "name": "Stage", "channel": "c1", "output": "low_z"}],
            "points": [{"id": "p1", "kind": "speaker", "label": "W-1", "fed_from": "z1", "wired": "low_z"}]})"};
    for (const char* const text : jobs) {
        const Job job = job_of(text);
        for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
            check_well_formed(sheet_of(job, reader));
            SheetOptions nothing_said;
            nothing_said.reader = reader;
            const auto bare = sheet_of(job, nothing_said);
            check_well_formed(bare);
            CHECK(has(text_of(bare), name_of(job, job_id())));
        }
    }
    CHECK(has(text_of(sheet_of(job_of(jobs[0]), SheetReader::owner)), "No loudspeaker is recorded as fitted yet."));
    CHECK(has(text_of(sheet_of(job_of(jobs[4]), SheetReader::technician)), "10 ft high"));
}

TEST_CASE("records that a merge left broken do not stop the sheet") {
    Job job = demo_job();
    const auto clear = [&](Kind kind, const char* id, const char* field) {
        CHECK(job.set(kind, Id(id), *find_field(kind, field), Value()).ok());
    };
    const auto set = [&](Kind kind, const char* id, const char* field, const char* value) {
        CHECK(job.set(kind, Id(id), *find_field(kind, field), Value(value)).ok());
    };
    clear(Kind::zone, "z-1", "name");
    clear(Kind::point, "s-101", "label");
    clear(Kind::point, "s-102", "kind");
    clear(Kind::reading, "m-9", "quantity");
    clear(Kind::reading, "m-11", "at");
    clear(Kind::snag, "n-1", "text");
    set(Kind::point, "v-122", "fed_from", "s-131");  // a circle: s-131 hangs on v-122
    set(Kind::point, "s-201", "room", "gone");
    set(Kind::point, "s-202", "type", "gone");
    set(Kind::zone, "z-5", "channel", "gone");
    set(Kind::setting, "set-1", "amplifier", "gone");
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
        check_well_formed(sheet_of(job, reader));
    const std::string text = text_of(sheet_of(job, SheetReader::technician));
    for (const char* const label : {"V-122", "H-131", "C-201", "C-202"}) CHECK(has(text, label));
}

TEST_CASE("hostile names pass through unharmed, and the footer stays short") {
    const std::string script = "<script>alert(1)</script> & \"quotes\" =1+1";
    const std::string long_name(200, 'W');
    Job job = demo_job();
    const auto set = [&](Kind kind, const char* id, const char* field, const std::string& value) {
        CHECK(job.set(kind, Id(id), *find_field(kind, field), Value(value)).ok());
    };
    set(Kind::room, "r-cafe", "name", script);
    set(Kind::point, "s-101", "label", "قاعة 会議室 Ω");
    set(Kind::zone, "z-1", "name", long_name);
    set(Kind::job, "job", "name", "Line\nbreak " + std::string(150, 'X'));
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const auto sheet = sheet_of(job, reader);
        check_well_formed(sheet);
        const std::string text = text_of(sheet);
        CHECK(has(text, script));
        // The owner is not told the label of every loudspeaker.
        CHECK(has(text, "قاعة 会議室 Ω") == (reader == SheetReader::technician));
        CHECK(has(text, long_name));
        CHECK(!has(sheet.footer, "\n"));
        CHECK(code_points(sheet.footer) < 200);
        CHECK(!has(sheet.title, "\n"));
    }
}

TEST_CASE("a name in another direction of writing stays within itself, wherever it is quoted") {
    Job job = demo_job();
    const auto set = [&](Kind kind, const char* id, const char* field, const std::string& value) {
        CHECK(job.set(kind, Id(id), *find_field(kind, field), Value(value)).ok());
    };
    set(Kind::zone, "z-7", "name", "قاعة");
    set(Kind::point, "s-101", "label", "abc\u202Edef");
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const auto sheet = sheet_of(job, reader);
        const std::string text = text_of(sheet);
        CHECK(!has(text, "\u202E"));
        std::size_t quoted = 0;
        for (std::size_t at = 0; (at = text.find("قاعة", at)) != std::string::npos; at += 2, ++quoted)
            CHECK(text.substr(at - 3, 3) == "\u2068");
        CHECK(quoted > 0);
        // In the page a sentence of ours keeps the page's direction, a name alone has its own.
        const std::string page = html_page(sheet);
        CHECK(has(page, " dir=\"auto\">\u2068قاعة\u2069</"));
        CHECK(!has(page, " dir=\"auto\">\u2068قاعة\u2069: "));
    }
    CHECK(has(text_of(sheet_of(job, SheetReader::technician)), "Load of \u2068قاعة\u2069: "));
}

TEST_CASE(
    "as found and as left stand with the zone of the point, what is on no line with the visits; no owner sees it") {
    SheetOptions options;
    options.reader = SheetReader::technician;
    options.visits = {{Id("vis-6"),
                       {{Id("s-104"), "C-104", entered("5 W, as seen"), Watts(2.5)},
                        {Id("gone"), "C-199", entered("5 W"), entered("removed")}}},
                      {Id("vis-5"), {}}};
    const auto sheet = sheet_of(demo(), options);
    const auto table = table_of(sheet, "As found and as left on Foyer");
    REQUIRE(table.rows.size() == 1);
    CHECK(table.rows[0][0].text == "C-104");
    CHECK(cell_of(table, table.rows[0], "Date") == "14 Oct 2025");
    CHECK(cell_of(table, table.rows[0], "Visit") == "Service");
    CHECK(cell_of(table, table.rows[0], "As found") == "5 W, as seen");
    CHECK(cell_of(table, table.rows[0], "As left") == "2.5 W");
    const auto rest = table_of(sheet, "As found and as left, points on no line");
    REQUIRE(rest.rows.size() == 1);
    CHECK(rest.rows[0][0].text == "C-199");
    CHECK(table_of(sheet, "As found and as left on Terrace").rows.empty());
    options.reader = SheetReader::owner;
    CHECK(!has(text_of(sheet_of(demo(), options)), "As found"));
}

TEST_CASE("the level over a floor is drawn for every room whose loudspeakers' places are known, and no other") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    const Derived derived = derive(demo());
    std::size_t rooms = 0;
    for (const Room& room : demo().all<Room>()) {
        const Result<RoomSources> heard = sources_of_room(demo(), derived, room.id);
        if (!heard || heard->sources.empty()) continue;
        ++rooms;
        bool found = false;
        for (const auto& figure : blocks_of<document::Figure>(sheet)) {
            const auto* shades = std::get_if<document::Shades>(&figure.content);
            if (!shades || !figure.caption.starts_with(name_of(demo(), room.id) + ", ")) continue;
            found = true;
            CHECK(shades->spots.size() == heard->sources.size());
            REQUIRE(shades->cells.size() == shades->columns * shades->rows);
            const LevelMap map = level_map(heard->sources, heard->floor);
            CHECK(
                has(figure.caption, rounded(map.least.value(), 0) + " to " + rounded(map.greatest.value(), 0) + " dB"));
            for (const std::uint8_t cell : shades->cells) REQUIRE(!shades->key[cell].empty());
        }
        CHECK_MESSAGE(found, name_of(demo(), room.id));
    }
    CHECK(rooms >= 4);
    std::size_t drawn = 0;
    for (const auto& figure : blocks_of<document::Figure>(sheet))
        drawn += std::holds_alternative<document::Shades>(figure.content) ? 1U : 0U;
    CHECK(drawn == rooms);
    CHECK(has(text_of(sheet), "Not a design for an emergency or fire system"));
}

TEST_CASE("the technician's sheet draws the plan of every room with a size and a loudspeaker's place, and no other") {
    const auto sheet = sheet_of(demo(), SheetReader::technician);
    std::size_t rooms = 0;
    for (const Room& room : demo().all<Room>()) {
        std::size_t placed = 0;
        for (const Point& point : demo().all<Point>()) placed += point.room == room.id && point.x_m && point.y_m;
        if (!room.length_m || !room.width_m || placed == 0) continue;
        ++rooms;
        bool found = false;
        for (const auto& figure : blocks_of<document::Figure>(sheet)) {
            const auto* plan = std::get_if<document::Drawing>(&figure.content);
            if (!plan || !figure.alternative.starts_with("Plan of " + name_of(demo(), room.id))) continue;
            found = true;
            // To scale: the floor is the one closed stroke of five corners.
            std::size_t floors = 0, rings = 0;
            for (const auto& stroke : plan->strokes) {
                rings += stroke.path.size() > 10;
                if (stroke.path.size() != 5) continue;
                ++floors;
                const double length = stroke.path[1][0] - stroke.path[0][0];
                const double width = stroke.path[2][1] - stroke.path[1][1];
                CHECK(length / width == doctest::Approx(room.length_m->value() / room.width_m->value()));
            }
            CHECK(floors == 1);
            CHECK(rings == placed);
            for (const auto& stroke : plan->strokes)
                for (const auto& [x, y] : stroke.path) {
                    CHECK(x >= 0);
                    CHECK(x <= plan->width);
                    CHECK(y >= 0);
                    CHECK(y <= plan->height);
                }
        }
        CHECK_MESSAGE(found, name_of(demo(), room.id));
    }
    CHECK(rooms >= 2);
    std::size_t drawn = 0;
    for (const auto& figure : blocks_of<document::Figure>(sheet)) drawn += figure.alternative.starts_with("Plan of ");
    CHECK(drawn == rooms);
}

TEST_CASE("a column in which nothing stands is left out, the one that names the rows never") {
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician})
        for (const auto& table : blocks_of<document::Table>(sheet_of(demo(), reader)))
            for (std::size_t column = 1; column < table.columns.size() && !table.rows.empty(); ++column)
                CHECK_MESSAGE(std::any_of(table.rows.begin(), table.rows.end(),
                                          [&](const auto& row) { return !row[column].text.empty(); }),
                              table.caption << ", " << table.columns[column].title);
}

TEST_CASE("the owner is told what not to open, what not to rely on and what to do when the fire alarm sounds") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::owner));
    CHECK(has(text,
              "the lines carry up to 70.7 V and can give a dangerous shock. Do not open the amplifier: it has mains "
              "inside."));
    CHECK(has(text, "Do not rely on these loudspeakers for fire or emergency warnings."));
    CHECK(has(text, "follow your fire procedure first"));  // where a link mutes the music
    CHECK(has(text, "Leave all wiring to a qualified installer."));
    const std::string without =
        text_of(sheet_of(job_of(R"({"tapwright_job": 1, "job": {"name": "Hall"}})"), SheetReader::owner));
    CHECK(has(without, "If the fire alarm sounds, follow your fire procedure."));
}

TEST_CASE("the technician is told the line voltage and the wiring classes as the amplifiers are marked") {
    const std::string text = text_of(sheet_of(demo_job(), SheetReader::technician));
    CHECK(has(text, "The lines carry up to 70.7 V"));
    CHECK(has(text, "Class 1, as the amplifier is marked: Great hall."));
    CHECK(has(text, "Class 3, as the amplifier is marked: "));
}

}  // namespace tapwright
