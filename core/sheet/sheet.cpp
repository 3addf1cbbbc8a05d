#include "core/sheet/sheet.h"

#include <algorithm>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "core/words/isolate.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"

namespace tapwright {
namespace {

using sheet::View;

// On every page, so it has to stay one or two lines long whatever the job is called.
std::string footer(const View& view, const char* kind) {
    std::string text = cited(name_of(view.job, job_id()), 40) + " · " + kind;
    if (!view.day.empty()) text += " · " + view.day;
    if (!view.options.code.empty()) text += " · code " + cited(view.options.code, 24);
    if (view.options.position > 0) text += " · log " + std::to_string(view.options.position);
    if (!view.options.state.empty()) text += "\nHash " + cited(view.options.state, 64);
    if (!view.options.version.empty()) text += " · Tapwright " + cited(view.options.version, 24);
    return text;
}

// The sheet of one state is the same all day long, to the byte.
std::string start_of_day(const std::string& time) {
    return time.size() > 19 ? time.substr(0, 11) + "00:00:00" + time.substr(time.find_first_of("Zz+-", 19)) : time;
}

// Columns in which nothing stands say nothing, and take the room of those that do.
void drop_empty_columns(document::Table& table) {
    if (table.rows.empty()) return;
    for (std::size_t column = table.columns.size(); column-- > 1;) {
        const bool is_empty = std::all_of(table.rows.begin(), table.rows.end(),
                                          [&](const auto& row) { return row[column].text.empty(); });
        if (!is_empty) continue;
        const auto at = static_cast<std::ptrdiff_t>(column);
        table.columns.erase(table.columns.begin() + at);
        for (auto& row : table.rows) row.erase(row.begin() + at);
    }
}

}  // namespace

document::Document handover_sheet(const Job& job, const Derived& derived, const SheetOptions& options) {
    TAPWRIGHT_ENSURE(derived.points.size() == job.all<Point>().size());
    TAPWRIGHT_ENSURE(derived.zones.size() == job.all<Zone>().size());
    TAPWRIGHT_ENSURE(derived.readings.size() == job.all<Reading>().size());
    const std::optional<Job> isolated = with_isolated_texts(job);
    const View view(isolated ? *isolated : job, derived, options);
    const bool for_owner = options.reader == SheetReader::owner;
    const char* const kind = for_owner ? "owner's sheet" : "technician's sheet";

    document::Document made;
    made.title = cited(name_of(view.job, job_id()), 200) + ": " + kind;
    made.author = cited(sheet::text_or(view.job.info().contractor, ""), 200);
    made.created = start_of_day(options.time);
    made.footer = footer(view, kind);
    made.paper = options.paper;
    for_owner ? sheet::owner_sheet(view, made.blocks) : sheet::technician_sheet(view, made.blocks);
    for (document::Block& block : made.blocks)
        if (auto* table = std::get_if<document::Table>(&block)) drop_empty_columns(*table);
    return made;
}

}  // namespace tapwright
