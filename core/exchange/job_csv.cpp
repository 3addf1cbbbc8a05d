#include "core/exchange/job_csv.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

// What spreadsheets read as the start of a formula (OWASP's list of CSV injection starters); also behind apostrophes,
// so that read_csv(), which takes one off, gives back what was there.
bool looks_like_formula(std::string_view text) {
    text.remove_prefix(std::min(text.find_first_not_of('\''), text.size()));
    return !text.empty() && std::string_view("=+-@\t\r\n").find(text.front()) != std::string_view::npos;
}

std::string cell(const Value& value) {
    std::string text;
    if (const double* number = value.number()) return shortest(*number);
    if (const bool* flag = value.flag()) return *flag ? "true" : "false";
    if (value.is_null()) return "";
    if (const std::string* held = value.text())
        text = (looks_like_formula(*held) ? "'" : "") + *held;
    else
        text = compact_json(value);
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
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
