// A fire or emergency line on both sheets: named, listed as recorded, and never calculated.
#include <doctest/doctest.h>

#include <algorithm>

#include "core/sheet/sheet.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

// The row of a table whose first cell is `name`.
// The blocks below a heading of the second level, up to the next.
std::vector<document::Block> section_of(const document::Document& document, const std::string& heading) {
    std::vector<document::Block> found;
    bool is_within = false;
    for (const document::Block& block : document.blocks) {
        if (const auto* title = std::get_if<document::Heading>(&block); title && title->level <= 2) {
            is_within = title->text == heading;
            continue;
        }
        if (is_within) found.push_back(block);
    }
    return found;
}

}  // namespace

TEST_CASE("a fire or emergency line is named at the head of both sheets, and nothing of it is calculated") {
    Job job = demo_job();
    REQUIRE(job.set(Kind::zone, Id("z-6"), *find_field(Kind::zone, "emergency"), "yes").ok());
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        const std::string text = text_of(sheet_of(job, reader));
        CHECK(has(text,
                  "Part of a fire or emergency system: Offices and landing. Not calculated here: leave it to qualified "
                  "people. Ask whoever is responsible"));
        CHECK(!has(text_of(sheet_of(demo_job(), reader)), "Part of a fire or emergency system"));
    }
    const auto owner = sheet_of(job, SheetReader::owner);
    const auto spare = table_of(owner, "Spare watts");
    const auto row = row_of(spare, "Offices and landing");
    CHECK(cell_of(spare, row, "Spare") == "fire or emergency line: nothing may be added");
    const auto controls = table_of(owner, "Room by room");
    CHECK(cell_of(controls, row_of(controls, "Upper landing and Offices"), "Control") ==
          "Fire or emergency: leave it alone");
}

TEST_CASE("of a fire or emergency zone its page shows what is recorded and nothing that would be calculated") {
    Job job = demo_job();
    const auto set = [&](Kind kind, const char* id, const char* field, const char* value) {
        REQUIRE(job.set(kind, Id(id), *find_field(kind, field), Value(value)).ok());
    };
    set(Kind::zone, "z-2", "emergency", "yes");  // the café's, with wall controls and readings
    const auto sheet = sheet_of(job, SheetReader::technician);
    const auto blocks = section_of(sheet, "Zone: Café and kitchen");
    REQUIRE(blocks.size() > 2);
    const auto* warning = std::get_if<document::Paragraph>(&blocks[0]);
    REQUIRE(warning);
    CHECK(warning->tone == document::Tone::stop);
    CHECK(has(warning->text, "leave it to qualified people"));
    document::Document part;
    part.blocks = blocks;
    CHECK(blocks_of<document::Figure>(part).empty());
    const std::string text = text_of(part);
    for (const char* const calculated : {"Solved", "Expected", "Load", "May be added", "Volts", "Level", "Watts",
                                         "Behind it", "Line voltage", "has not been measured"})
        CHECK_MESSAGE(!has(text, calculated), std::string(calculated));
    const auto points = table_of(part, "Points of Café and kitchen in feed order, as recorded");
    REQUIRE(points.rows.size() == 16);
    const auto row = row_of(points, "C-121");
    CHECK(cell_of(points, row, "Room") == "Café");
    CHECK(cell_of(points, row, "Fed from") == "V-121, output");
    CHECK(table_of(part, "Attenuators in the line").rows.size() == 2);
    CHECK(table_of(part, "Readings on Café and kitchen").rows.size() == 3);

    const auto zones = table_of(sheet, "Load, limit and headroom");
    const auto zone = row_of(zones, "Café and kitchen");
    for (const char* const title : {"Basis", "Limit", "Reserve"}) CHECK(cell_of(zones, zone, title).empty());
    for (const char* const title : {"Load", "Headroom"}) CHECK(cell_of(zones, zone, title) == "not calculated");
    const std::string owner = text_of(sheet_of(job, SheetReader::owner));
    for (const char* const asked : {"Line not measured: Café", "Not yet listened to: C-12"}) CHECK(!has(owner, asked));
}

TEST_CASE("behind a part of an emergency system on an ordinary line no point has figures") {
    Job job = demo_job();
    REQUIRE(job.set(Kind::point, Id("v-122"), *find_field(Kind::point, "emergency"), Value("yes")).ok());
    const auto sheet = sheet_of(job, SheetReader::technician);
    const auto points = table_of(sheet, "Points of Café and kitchen");
    const Derived derived = derive(job);
    std::size_t parts = 0;
    for (std::size_t i = 0; i < derived.points.size(); ++i) {
        if (!derived.points[i].traced || derived.points[i].zone != *job.place<Zone>(Id("z-2"))) continue;
        const auto row = row_of(points, *job.all<Point>()[i].label);
        CHECK(cell_of(points, row, "Volts").empty() == derived.points[i].emergency);
        if (!derived.points[i].emergency) continue;
        ++parts;
        for (const char* const title : {"Level", "Watts"}) CHECK(cell_of(points, row, title).empty());
    }
    CHECK(parts > 1);
    const auto outputs = table_of(sheet, "Load against rated power");
    CHECK(std::any_of(outputs.rows.begin(), outputs.rows.end(), [&](const auto& row) {
        return cell_of(outputs, row, "Expected") == "not calculated" &&
               cell_of(outputs, row, "Load") == "not calculated";
    }));
}

}  // namespace tapwright
