#include "tests/oracle/voices.h"

#include <fstream>
#include <sstream>

#include "core/job/field_text.h"
#include "tests/cli/program.h"

namespace tapwright::oracle {

Voices::Voices(const std::string& json) {
    const test::TemporaryFolder folder;
    const std::string job = folder.file("job.tapjob");
    const auto run = [&](const std::vector<std::string>& arguments) {
        return test::tapwright(folder.path().string(), arguments).out;
    };
    std::ofstream(folder.file("job.json"), std::ios::binary) << json;
    run({"import", folder.file("job.json"), job});
    check = Json::parse(run({"check", job, "--json"}));
    solve = Json::parse(run({"solve", job, "--knobs", "left", "--json"}));
    records = Json::parse(json);
    const Result<JobText> text = read_job(json, "job.json");
    REQUIRE(text.ok());
    changes = text->changes;
    const Result<Session> session =
        Session::create(folder.file("copy.tapjob"), {.changes = text->changes, .fill_in = false, .place = {}},
                        {"Ana", ""}, test::Clock().next());
    REQUIRE(session.ok());
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        SheetOptions options;
        options.reader = reader;
        options.time = "2026-03-02T12:00:00Z";
        auto& sheet = reader == SheetReader::owner ? owner : technician;
        sheet =
            handover_sheet(session->job(), session->derived(), options, Words(english(), length_units(session->job())));
    }
}

std::string demo_json() {
    std::ifstream file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json", std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

const document::Table* table_in(const document::Document& sheet, const std::string& caption) {
    for (const document::Block& block : sheet.blocks)
        if (const auto* table = std::get_if<document::Table>(&block); table && table->caption.starts_with(caption))
            return table;
    return nullptr;
}

std::string cell_in(const document::Table& table, const std::string& name, const std::string& title) {
    for (const auto& row : table.rows)
        for (std::size_t k = 0; k < row.size(); ++k)
            if (row.front().text == name && table.columns[k].title == title) return row[k].text;
    return {};
}

std::string name_in(const Json& records, const char* kind, const Json& id, const char* field) {
    for (const Json& record : records.value(kind, Json::array()))
        if (record["id"] == id) return record[field];
    return {};
}

bool is_unique(const Json& records, const char* kind, const char* field, const std::string& name) {
    int found = 0;
    for (const Json& record : records.value(kind, Json::array())) found += record[field] == name ? 1 : 0;
    return found == 1;
}

}  // namespace tapwright::oracle
