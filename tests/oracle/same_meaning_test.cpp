// One number for one thing: every figure on the technician's sheet and the owner's that `check --json` or `solve
// --json` says too is the same there, for the demo job and for fifty jobs at random.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>

#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "core/sheet/sheet.h"
#include "core/units/show.h"
#include "tests/cli/program.h"
#include "tests/oracle/random_story.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

// What the program says of one job, in its three voices.
class Voices {
public:
    explicit Voices(const std::string& json) {
        std::ofstream(folder_.file("job.json"), std::ios::binary) << json;
        run({"import", folder_.file("job.json"), job_});
        check = said({"check", job_, "--json"});
        solve = said({"solve", job_, "--knobs", "left", "--json"});
        records = Json::parse(json);
        const Result<JobText> text = read_job(json, "job.json");
        REQUIRE(text.ok());
        const Result<Session> session =
            Session::create(folder_.file("copy.tapjob"), {.changes = text->changes, .fill_in = false, .place = {}},
                            {"Ana", ""}, test::Clock().next());
        REQUIRE(session.ok());
        for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
            SheetOptions options;
            options.reader = reader;
            options.time = "2026-03-02T12:00:00Z";
            auto& sheet = reader == SheetReader::owner ? owner : technician;
            sheet = handover_sheet(session->job(), session->derived(), options,
                                   Words(english(), length_units(session->job())));
        }
    }

    Json check, solve, records;
    document::Document owner, technician;

private:
    test::Ran run(const std::vector<std::string>& arguments) const {
        return test::tapwright(folder_.path().string(), arguments);
    }
    Json said(const std::vector<std::string>& arguments) const { return Json::parse(run(arguments).out); }

    test::TemporaryFolder folder_;
    std::string job_ = folder_.file("job.tapjob");
};

const document::Table* table_of(const document::Document& sheet, const std::string& caption) {
    for (const document::Block& block : sheet.blocks)
        if (const auto* table = std::get_if<document::Table>(&block); table && table->caption.starts_with(caption))
            return table;
    return nullptr;
}

// The cell about `name` in the column `title`; "" where there is no such column, as nothing stood in it.
std::string cell_of(const document::Table& table, const std::string& name, const std::string& title) {
    for (const auto& row : table.rows)
        for (std::size_t k = 0; k < row.size(); ++k)
            if (row.front().text == name && table.columns[k].title == title) return row[k].text;
    return {};
}

template <class Q>
std::string shown(const Json& figure) {
    return figure.is_number() ? show(Q(figure.get<double>())) : std::string();
}

std::string name_of(const Json& records, const char* kind, const Json& id, const char* field = "name") {
    for (const Json& record : records.value(kind, Json::array()))
        if (record["id"] == id) return record[field];
    return {};
}

bool is_unique(const Json& records, const char* kind, const char* field, const std::string& name) {
    int found = 0;
    for (const Json& record : records.value(kind, Json::array())) found += record[field] == name ? 1 : 0;
    return found == 1;
}

// Returns: how many figures were held against one another.
int points_agree(const Voices& voices) {
    int compared = 0;
    for (const document::Block& block : voices.technician.blocks) {
        const auto* table = std::get_if<document::Table>(&block);
        if (!table || !table->caption.starts_with("Points of ") || table->caption.ends_with("as recorded")) continue;
        for (const Json& point : voices.solve["points"]) {
            const std::string label = name_of(voices.records, "points", point["id"], "label");
            if (cell_of(*table, label, "Point") != label || !is_unique(voices.records, "points", "label", label))
                continue;
            CAPTURE(label);
            CHECK(cell_of(*table, label, "Volts") == shown<Volts>(point["volts"]));
            if (const std::string watts = cell_of(*table, label, "Watts"); !watts.empty())
                CHECK(watts == shown<Watts>(point["watts"]));
            const std::string level = cell_of(*table, label, "Level");
            if (!level.empty() && level != "silent" && level != "unknown")
                CHECK(level == shown<Decibels>(point["level_db"]));
            ++compared;
        }
    }
    return compared;
}

int zones_agree(const Voices& voices) {
    int compared = 0;
    const document::Table* schedule = table_of(voices.technician, "Load, limit and headroom");
    REQUIRE(schedule);
    for (std::size_t i = 0; i < voices.check["zones"].size(); ++i) {
        const Json& zone = voices.check["zones"][i];
        if (zone["load_w"].is_null()) continue;
        const std::string name = zone["name"];
        if (!is_unique(voices.records, "zones", "name", name)) continue;
        CAPTURE(name);
        const std::string load = shown<Watts>(zone["load_w"]);
        CHECK(cell_of(*schedule, name, "Load").starts_with(load));
        if (zone["limit_w"].is_number()) CHECK(cell_of(*schedule, name, "Limit") == shown<Watts>(zone["limit_w"]));
        if (zone["reserve_w"].is_number())
            CHECK(cell_of(*schedule, name, "Reserve") == shown<Watts>(zone["reserve_w"]));
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
    const document::Table* sources = table_of(voices.technician, "Load against rated power");
    for (const char* const kind : {"channels", "amplifiers"})
        for (const Json& source : voices.check[kind]) {
            const std::string own = source["name"];
            const std::string name = std::string(kind) == "channels" ? "Output " + own : own;
            if (!is_unique(voices.records, kind, "name", own) || source["load_w"].is_null()) continue;
            REQUIRE(sources);
            CAPTURE(name);
            // An output that feeds a fire or emergency line: the sheet says nothing of it.
            if (cell_of(*sources, name, "Load") == "not calculated") continue;
            CHECK(cell_of(*sources, name, "Load").ends_with(shown<Watts>(source["load_w"])));
            if (source["rated_w"].is_number())
                CHECK(cell_of(*sources, name, "Rated") == shown<Watts>(source["rated_w"]));
            if (source["headroom_w"].is_number()) {
                const std::string room = Words().text(Message(rounded_down(Watts(source["headroom_w"].get<double>()))));
                CHECK(cell_of(*sources, name, "Headroom").ends_with(room));
            }
            ++compared;
        }
    return compared;
}

// As many findings as `check` has, those that share a row by their number.
void findings_agree(const Voices& voices) {
    const document::Table* findings = table_of(voices.technician, "What is wrong or open");
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
    std::ifstream file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json", std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    CHECK(all_agree(Voices(text.str())) >= 91 + 9 + 4 + 2);
}

TEST_CASE("the sheets of fifty jobs at random say the same numbers as check and solve") {
    int compared = 0;
    int jobs = 0;
    // Its parameters say how many; every one is another job.
    CHECK(rc::check("the same meaning everywhere", [&] {
        if (jobs >= 50) return;
        const auto story = random_story(6);
        compared += all_agree(Voices(story->exported()));
        ++jobs;
    }));
    CHECK(jobs == 50);
    CHECK(compared > 50);
}
