// What was found and how, as the technician's sheet says it.
#include <doctest/doctest.h>

#include "core/derive/derived.h"
#include "core/sheet/parts.h"
#include "tests/sheet/samples.h"

using namespace tapwright;

namespace {

std::vector<outline::Block> faults_of(const Job& job) {
    const Derived derived = derive(job);
    const SheetOptions options;
    const Words words;
    const sheet::View view(job, derived, options, words);
    std::vector<outline::Block> made;
    sheet::Blocks blocks([&](outline::Block&& block) { made.push_back(std::move(block)); });
    sheet::faults_section(view, blocks);
    return made;
}

}  // namespace

TEST_CASE("the technician reads what was found on each line that does not fit, and how") {
    const std::vector<outline::Block> blocks = faults_of(samples::demo_job());
    REQUIRE(blocks.size() == 3);
    const Words words;
    const auto& table = std::get<outline::Table>(blocks[1]);
    REQUIRE(table.rows.size() == 2);
    const auto cell = [&](std::size_t row, std::size_t column) { return words.text(table.rows[row][column].text); };
    CHECK(cell(0, 0) == "Foyer");
    CHECK(cell(0, 1) == "Read: Foyer 138 Ω (baseline 121 Ω). Silent: C-104. Heard playing: 11.");
    CHECK(cell(0, 2).starts_with("C-104 draws nothing"));
    CHECK(cell(0, 3).ends_with("%"));
    CHECK(cell(0, 4).empty());  // sure: no measurement tells more
    CHECK(cell(1, 0) == "Old wing");
    CHECK(cell(1, 2).starts_with("L-235, L-236 and L-237 are on this line"));
    CHECK_FALSE(cell(1, 4).empty());
}

TEST_CASE("where every reading fits nothing is said of faults") {
    Job job = samples::demo_job();
    std::vector<Id> readings;
    for (const Reading& reading : job.all<Reading>()) readings.push_back(reading.id);
    for (const Id& reading : readings) job.remove(Kind::reading, reading);
    CHECK(faults_of(job).empty());
}
