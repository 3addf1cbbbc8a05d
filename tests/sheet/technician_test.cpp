// What the technician's sheet groups, verifies and marks.
#include <doctest/doctest.h>

#include "core/job/field_table.h"
#include "tests/sheet/samples.h"

namespace tapwright {
namespace {

using namespace samples;

// The row of a table whose first cell is `name`.
}  // namespace

TEST_CASE("a plan outlines the loudspeaker of an open snag that its reader is told of") {
    Job job = demo();
    const auto caption = [&](SheetReader reader) {
        for (const auto& figure : blocks_of<document::Figure>(sheet_of(job, reader)))
            if (figure.alternative.starts_with("Plan of Foyer")) return figure.caption;
        return std::string();
    };
    const std::string outlined = "Outlined, still to be fixed: C-104.";
    CHECK(has(caption(SheetReader::owner), outlined));
    CHECK(has(caption(SheetReader::technician), outlined));
    REQUIRE(job.set(Kind::snag, Id("n-1"), *find_field(Kind::snag, "share"), "technician").ok());
    CHECK(!has(caption(SheetReader::owner), outlined));
    CHECK(has(caption(SheetReader::technician), outlined));
    REQUIRE(job.set(Kind::snag, Id("n-1"), *find_field(Kind::snag, "state"), "closed").ok());
    CHECK(!has(caption(SheetReader::technician), outlined));
}

TEST_CASE("what is expected is a bound on the drawing, in the readings and beside the zone, in the same words") {
    Job job = demo();
    REQUIRE(job.set(Kind::point, Id("s-106"), *find_field(Kind::point, "length_m"), Value()).ok());
    const std::string text = text_of(sheet_of(job, SheetReader::technician));
    const auto readings = table_of(sheet_of(job, SheetReader::technician), "Readings on Foyer");
    REQUIRE(!readings.rows.empty());
    CHECK(has(text, "138/at least "));
    // What is not recorded today says nothing of what was expected half a year before.
    for (const auto& row : readings.rows)
        if (cell_of(readings, row, "What") == "Impedance")
            CHECK(cell_of(readings, row, "Expected").starts_with("at least ") ==
                  (cell_of(readings, row, "Date") == "14 Oct 2025"));
}

TEST_CASE("a reading typed in later from paper stands where it was taken, and the newest is judged at the end") {
    const Job job = job_of(R"({"tapwright_job":1,"job":{"name":"Inn"},"zones":[{"id":"z","name":"Hall","limit_w":100}],
"points":[{"id":"p","kind":"speaker","label":"C-1","fed_from":"z","tap_w":10,"state":"tested"}],
"readings":[{"id":"r1","at":"z","quantity":"ohms","value":900,"hz":1000,"time":"2026-05-06T09:00:00Z"},
{"id":"r2","at":"z","quantity":"ohms","value":1000,"hz":1000,"time":"2026-05-04T09:00:00Z"},
{"id":"r3","at":"z","quantity":"ohms","value":950,"hz":1000,"time":"2026-05-05T09:00:00Z"}]})");
    const auto readings = table_of(sheet_of(job, SheetReader::technician), "Readings on Hall");
    REQUIRE(readings.rows.size() == 3);
    const char* const days[] = {"4 May 2026", "5 May 2026", "6 May 2026"};
    for (std::size_t k = 0; k < 3; ++k) CHECK(cell_of(readings, readings.rows[k], "Date") == days[k]);
}

TEST_CASE("findings of one kind share a row with the list of where they are") {
    const auto findings = table_of(sheet_of(demo(), SheetReader::technician), "What is wrong or open");
    std::size_t taps = 0;
    for (const auto& row : findings.rows) {
        if (!has(row[1].text, "differs from the plan")) continue;
        ++taps;
        CHECK(row[1].text.starts_with("13 of one kind, the tap differs from the plan: C-103"));
    }
    CHECK(taps == 1);
    CHECK(findings.rows.size() < derive(demo()).findings.size() - 15);
}

TEST_CASE("the verification names each item with its method, limit, result, person and day") {
    const auto table = table_of(sheet_of(demo(), SheetReader::technician), "What was verified");
    const auto row = [&](const std::string& item) {
        std::string all;
        for (const auto& cell : row_of(table, item)) all += (all.empty() ? "" : " | ") + cell.text;
        return all;
    };
    CHECK(row("Impedance: Foyer") ==
          "Impedance: Foyer | meter, 1 kHz | 94.8 \u03a9 to 142 \u03a9 | 138 \u03a9; changed since the baseline | T. "
          "Obel | 14 Oct 2025");
    CHECK(row("Impedance: Workshop").find("not measured") != std::string::npos);
    CHECK(row("Overrides") == "Overrides | announcement | heard | 4 of 5; not: V-202 | K. Ferrin | 8 Apr 2025");
    CHECK(row("Muting and other links").find("6 of 8; 2 not recorded") != std::string::npos);
    CHECK(row("Taps as planned").find("not: C-103") != std::string::npos);
    CHECK(row("Polarity").find("73 of 80; 7 not recorded") != std::string::npos);
}

TEST_CASE("who listened, tested and looked comes from the log; where it knows nobody, from the day the job names") {
    Job job = demo();
    SheetOptions options;
    options.reader = SheetReader::technician;
    const auto cell = [&](const std::string& item, const char* title) {
        const auto table = table_of(sheet_of(job, options), "What was verified");
        return cell_of(table, row_of(table, item), title);
    };
    for (const char* const field : {"walk_tested", "labels_checked"})
        REQUIRE(job.set(Kind::job, job_id(), *find_field(Kind::job, field), Value()).ok());
    CHECK(cell("Zones wired as recorded", "Person") == "not recorded");
    CHECK(cell("Labelling", "Result") == "not recorded: check on site");
    options.recorders["heard"]["s-104"] = {"R. Vane", "2026-01-09"};
    CHECK(cell("Zones wired as recorded", "Person") == "R. Vane; 79 not recorded");
    CHECK(cell("Zones wired as recorded", "Date") == "9 Jan 2026");
    CHECK(cell("Polarity", "Person") != "R. Vane");
    // On that day K. Ferrin was there, so says the visit.
    for (const char* const field : {"walk_tested", "labels_checked"})
        REQUIRE(job.set(Kind::job, job_id(), *find_field(Kind::job, field), std::string("2025-04-08")).ok());
    CHECK(cell("Zones wired as recorded", "Person") == "R. Vane and K. Ferrin");
    CHECK(cell("Zones wired as recorded", "Date") == "8 Apr 2025 to 9 Jan 2026");
    CHECK(cell("Labelling", "Result") == "looked at");
    CHECK(cell("Labelling", "Person") == "K. Ferrin");
    options.reader = SheetReader::owner;
    const auto tested = table_of(sheet_of(job, options), "What was tested");
    CHECK(cell_of(tested, row_of(tested, "Loudspeakers listened to"), "By") == "R. Vane and K. Ferrin");
}

}  // namespace tapwright
