#include "tests/sheet/samples.h"

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "core/words/words.h"

namespace tapwright::samples {

Job job_of(std::string_view json) {
    const Result<JobText> read = read_job(json, "sample.json");
    REQUIRE_MESSAGE(read.ok(), (read.ok() ? "" : in_english(read.refusal())));
    Job job;
    std::uint32_t index = 0;
    for (const Change& change : read->changes) {
        if (!job.has(change.kind, change.id)) job.make(change.kind, change.id, MadeRank{0, 0, 0, ++index});
        for (const auto& entry : change.fields) {  // clang 14 cannot capture a structured binding
            const std::string& name = entry.first;
            const FieldInfo* field = find_field(change.kind, name);
            REQUIRE(field != nullptr);
            const Result<void> set = job.set(change.kind, change.id, *field, entry.second);
            REQUIRE_MESSAGE(set.ok(), (set.ok() ? "" : name + " " + in_english(set.refusal())));
        }
    }
    return job;
}

Job demo_job() {
    std::ifstream file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json", std::ios::binary);
    REQUIRE(file.good());
    std::ostringstream text;
    text << file.rdbuf();
    return job_of(text.str());
}

document::Document sheet_of(const Job& job, SheetReader reader, const Language& language) {
    SheetOptions options;
    options.reader = reader;
    options.time = "2026-02-03T10:00:00+01:00";
    options.code = "7f3a91c2";
    options.position = 128;
    options.version = "0.1.0";
    return handover_sheet(job, derive(job), options, Words(language, length_units(job)));
}

document::Document sheet_of(const Job& job, const SheetOptions& options) {
    return handover_sheet(job, derive(job), options, Words(english(), length_units(job)));
}

namespace {

struct Reader {
    std::vector<std::string> texts;

    void add(const std::string& text) {
        if (!text.empty()) texts.push_back(text);
    }
    void add(const std::vector<std::string>& several) {
        for (const std::string& text : several) add(text);
    }

    void operator()(const document::Heading& heading) { add(heading.text); }
    void operator()(const document::Paragraph& paragraph) { add(paragraph.text); }
    void operator()(const document::Bullets& bullets) { add(bullets.items); }
    void operator()(const document::Facts& facts) {
        for (const auto& fact : facts.facts) add({fact.name, fact.value});
    }
    void operator()(const document::Table& table) {
        add(table.caption);
        for (const auto& column : table.columns) add(column.title);
        for (const auto& row : table.rows)
            for (const auto& cell : row) add(cell.text);
    }
    void operator()(const document::Figure& figure) {
        add({figure.caption, figure.alternative});
        if (const auto* bar = std::get_if<document::Bar>(&figure.content))
            for (const auto& part : bar->parts) add(part.label);
        if (const auto* drawing = std::get_if<document::Drawing>(&figure.content))
            for (const auto& label : drawing->labels) add(label.text);
        if (const auto* shades = std::get_if<document::Shades>(&figure.content))
            for (const std::string& words : shades->key) add(words);
    }
    void operator()(const document::SignatureLine& signature) { add({signature.role, signature.name, signature.date}); }
    void operator()(const document::PageBreak&) {}
    void operator()(const document::Contents& contents) { add(contents.title); }
    void operator()(const document::Labels& labels) {
        for (const auto& label : labels.labels) {
            add(label.name);
            add(label.lines);
        }
    }
    void operator()(const document::Layout&) {}
};

}  // namespace

std::vector<std::string> texts_of(const document::Document& document) {
    Reader reader;
    reader.add({document.title, document.author, document.footer});
    for (const document::Block& block : document.blocks) std::visit(reader, block);
    return reader.texts;
}

std::string text_of(const document::Document& document) {
    std::string all;
    for (const std::string& text : texts_of(document)) all += text + "\n";
    return all;
}

document::Table table_of(const document::Document& document, std::string_view caption) {
    std::string heading;
    for (const document::Block& block : document.blocks) {
        if (const auto* held = std::get_if<document::Heading>(&block)) heading = held->text;
        if (const auto* table = std::get_if<document::Table>(&block))
            if ((table->caption.empty() ? heading : table->caption).starts_with(caption)) return *table;
    }
    return {};
}

std::string cell_of(const document::Table& table, const std::vector<document::Cell>& row, std::string_view title) {
    for (std::size_t column = 0; column < table.columns.size() && column < row.size(); ++column)
        if (table.columns[column].title == title) return row[column].text;
    return "";
}

const Job& demo() {
    static const Job job = demo_job();
    return job;
}

std::vector<document::Cell> row_of(const document::Table& table, std::string_view name) {
    for (const auto& row : table.rows)
        if (row[0].text == name) return row;
    return {};
}

}  // namespace tapwright::samples
