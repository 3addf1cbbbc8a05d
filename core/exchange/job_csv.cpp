#include "core/exchange/job_csv.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

// The signs that begin a formula in some spreadsheet: those of OWASP's list of CSV injection, and their full-width and
// small forms, which spreadsheets in Chinese and Japanese take for the same.
constexpr std::string_view starters[] = {"=",      "+",      "-",      "@",      "\t",     "\r",     "\uFF1D",
                                         "\uFF0B", "\uFF0D", "\uFF20", "\uFE66", "\uFE62", "\uFE63", "\uFE6B"};
// What a spreadsheet may pass over on its way to a starter: blanks, and quotes that end or begin a cell.
constexpr std::string_view passed_over[] = {" ", "\"", "'", "\u00A0", "\u3000", "\u200B", "\uFEFF"};
// Where another dialect begins a cell. A comma is not among them: it is ours, and within our quotes it separates
// nothing.
constexpr std::string_view separators = ";|\t\r\n";

template <std::size_t size>
std::size_t length_of_one(std::string_view text, const std::string_view (&signs)[size]) {
    for (const std::string_view sign : signs)
        if (text.starts_with(sign)) return sign.size();
    return 0;
}

bool looks_like_formula(std::string_view text) {
    while (const std::size_t length = length_of_one(text, passed_over)) text.remove_prefix(length);
    return length_of_one(text, starters) > 0;
}

bool begins_a_cell(std::string_view text, std::size_t at) {
    return at == 0 || separators.find(text[at - 1]) != std::string_view::npos;
}

std::string cell(const Value& value) {
    if (const double* number = value.number()) return shortest(*number);
    if (const bool* flag = value.flag()) return *flag ? "true" : "false";
    if (value.is_null()) return "";
    std::string text = csv_text(value.text() ? *value.text() : compact_json(value));
    const bool has_edge = text.starts_with(' ') || text.ends_with(' ');
    if (!has_edge && text.find_first_of(",;|\t\"\r\n") == std::string::npos) return text;
    std::string escaped = "\"";
    for (const char c : text) escaped += c == '"' ? "\"\"" : std::string(1, c);
    return escaped + "\"";
}

template <class R>
std::string table(const Job& job) {
    std::string text = "id";
    for (const FieldOf<R>& field : field_table<R>()) text += "," + std::string(field.info.name);
    text += "\r\n";
    for (const R& record : job.all<R>()) {
        text += cell(record.id.text());
        for (const FieldOf<R>& field : field_table<R>()) text += "," + cell(field.get(record));
        text += "\r\n";
    }
    return text;
}

}  // namespace

std::string csv_text(std::string_view text) {
    std::string made;
    made.reserve(text.size());
    for (std::size_t at = 0; at < text.size(); ++at) {
        if (begins_a_cell(text, at) && looks_like_formula(text.substr(at))) made += '\'';
        made += text[at];
    }
    return made;
}

std::string text_of_csv(std::string_view cell) {
    std::string made;
    made.reserve(cell.size());
    for (std::size_t at = 0; at < cell.size(); ++at) {
        const bool is_guard = cell[at] == '\'' && begins_a_cell(cell, at) && looks_like_formula(cell.substr(at + 1));
        if (!is_guard) made += cell[at];
    }
    return made;
}

std::string csv_name(Kind kind) {
    return std::string(plural(kind)) + ".csv";
}

std::vector<CsvFile> write_csv(const Job& job) {
    std::vector<CsvFile> files;
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            if (!job.all<R>().empty()) files.push_back({csv_name(kind_at(i)), table<R>(job)});
        });
    return files;
}

}  // namespace tapwright
