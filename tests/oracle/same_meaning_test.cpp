// One number for one thing: every figure on the technician's sheet and the owner's that `check --json` or `solve
// --json` says too is the same there, for the demo job and for fifty jobs at random.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "tests/oracle/random_story.h"
#include "tests/oracle/voices.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

// Returns: how many figures were held against one another.
int points_agree(const Voices& voices) {
    int compared = 0;
    for (const document::Block& block : voices.technician.blocks) {
        const auto* table = std::get_if<document::Table>(&block);
        if (!table || !table->caption.starts_with("Points of ") || table->caption.ends_with("as recorded")) continue;
        for (const Json& point : voices.solve["points"]) {
            const std::string label = name_in(voices.records, "points", point["id"], "label");
            if (cell_in(*table, label, "Point") != label || !is_unique(voices.records, "points", "label", label))
                continue;
            CAPTURE(label);
            CHECK(cell_in(*table, label, "Volts") == shown<Volts>(point["volts"]));
            if (const std::string watts = cell_in(*table, label, "Watts"); !watts.empty())
                CHECK(watts == shown<Watts>(point["watts"]));
            const std::string level = cell_in(*table, label, "Level");
            if (!level.empty() && level != "silent" && level != "unknown")
                CHECK(level == shown<Decibels>(point["level_db"]));
            ++compared;
        }
    }
    return compared;
}

int zones_agree(const Voices& voices) {
    int compared = 0;
    const document::Table* schedule = table_in(voices.technician, "Load, limit and headroom");
    REQUIRE(schedule);
    for (std::size_t i = 0; i < voices.check["zones"].size(); ++i) {
        const Json& zone = voices.check["zones"][i];
        if (zone["load_w"].is_null()) continue;
        const std::string name = zone["name"];
        if (!is_unique(voices.records, "zones", "name", name)) continue;
        CAPTURE(name);
        const std::string load = shown<Watts>(zone["load_w"]);
        CHECK(cell_in(*schedule, name, "Load").starts_with(load));
        if (zone["limit_w"].is_number()) CHECK(cell_in(*schedule, name, "Limit") == shown<Watts>(zone["limit_w"]));
        if (zone["reserve_w"].is_number())
            CHECK(cell_in(*schedule, name, "Reserve") == shown<Watts>(zone["reserve_w"]));
        // The bar says the same load; the facts what the solution gives.
        bool is_here = false;
        for (const document::Block& block : voices.technician.blocks) {
            if (const auto* heading = std::get_if<document::Heading>(&block))
                is_here = heading->text == "Zone: " + name;
            if (!is_here) continue;
            if (const auto* figure = std::get_if<document::Figure>(&block);
                figure && figure->caption.starts_with("Load of "))
                CHECK(figure->caption.find(": " + load + " (") != std::string::npos);
            if (const auto* facts = std::get_if<document::Facts>(&block))
                for (const auto& fact : facts->facts)
                    if (fact.name.starts_with("Solved"))
                        CHECK(fact.value.starts_with(shown<Watts>(voices.solve["zones"][i]["watts"]) +
                                                     " from the output"));
        }
        ++compared;
    }
    return compared;
}

int sources_agree(const Voices& voices) {
    int compared = 0;
    const document::Table* sources = table_in(voices.technician, "Load against rated power");
    for (const char* const kind : {"channels", "amplifiers"})
        for (const Json& source : voices.check[kind]) {
            const std::string own = source["name"];
            const std::string name = std::string(kind) == "channels" ? "Output " + own : own;
            if (!is_unique(voices.records, kind, "name", own) || source["load_w"].is_null()) continue;
            REQUIRE(sources);
            CAPTURE(name);
            // An output that feeds a fire or emergency line: the sheet says nothing of it.
            if (cell_in(*sources, name, "Load") == "not calculated") continue;
            CHECK(cell_in(*sources, name, "Load").ends_with(shown<Watts>(source["load_w"])));
            if (source["rated_w"].is_number())
                CHECK(cell_in(*sources, name, "Rated") == shown<Watts>(source["rated_w"]));
            if (source["headroom_w"].is_number()) {
                const std::string room = Words().text(Message(rounded_down(Watts(source["headroom_w"].get<double>()))));
                CHECK(cell_in(*sources, name, "Headroom").ends_with(room));
            }
            ++compared;
        }
    return compared;
}

// As many findings as `check` has, those that share a row by their number.
void findings_agree(const Voices& voices) {
    const document::Table* findings = table_in(voices.technician, "What is wrong or open");
    std::size_t count = 0;
    if (findings)
        for (const auto& row : findings->rows) {
            const std::size_t grouped = row[1].text.find(" of one kind, ");
            count += grouped == std::string::npos ? 1 : std::stoul(row[1].text.substr(0, grouped));
        }
    CHECK(count == voices.check["findings"].size());
}

int all_agree(const Voices& voices) {
    findings_agree(voices);
    return points_agree(voices) + zones_agree(voices) + sources_agree(voices);
}

}  // namespace

TEST_CASE("the demo job's sheets say the same numbers as check and solve") {
    CHECK(all_agree(Voices(demo_json())) >= 91 + 9 + 4 + 2);
}

TEST_CASE("the sheets of fifty jobs at random say the same numbers as check and solve") {
    int compared = 0;
    int jobs = 0;
    // Its parameters say how many; every one is another job.
    CHECK(rc::check("the same meaning everywhere", [&] {
        if (jobs >= 50) return;
        compared += all_agree(Voices(with_rare_parts(random_story(6)->exported())));
        ++jobs;
    }));
    CHECK(jobs == 50);
    CHECK(compared > 50);
}
