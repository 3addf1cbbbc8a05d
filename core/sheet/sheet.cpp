#include "core/sheet/sheet.h"

#include <algorithm>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"

namespace tapwright {
namespace {

using sheet::View;

Message next_fact(Message so_far, Message next) {
    return in_context("footer", "{these} · {next}", {{"these", std::move(so_far)}, {"next", std::move(next)}});
}

// On every page, so it has to stay one or two lines long whatever the job is called.
Message footer(const View& view, Message kind) {
    const SheetOptions& options = view.options;
    Message text = next_fact(entered(cited(name_of(view.job, job_id()), 40)), std::move(kind));
    if (!view.day.empty()) text = next_fact(std::move(text), Day{view.day});
    if (!options.code.empty())
        text = next_fact(std::move(text), Message("code {code}", {{"code", code(cited(options.code, 24))}}));
    if (options.position > 0)
        text = next_fact(std::move(text), Message("log {number}", {{"number", options.position}}));
    if (!options.state.empty())
        text = in_context("footer", "{first_line}\nHash {hash}",
                          {{"first_line", std::move(text)}, {"hash", code(cited(options.state, 64))}});
    if (!options.version.empty())
        text =
            next_fact(std::move(text), Message("Tapwright {version}", {{"version", code(cited(options.version, 24))}}));
    return text;
}

// The sheet of one state is the same all day long, to the byte.
std::string start_of_day(const std::string& time) {
    return time.size() > 19 ? time.substr(0, 11) + "00:00:00" + time.substr(time.find_first_of("Zz+-", 19)) : time;
}

// Columns in which nothing stands say nothing, and take the room of those that do.
void drop_empty_columns(outline::Table& table) {
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

void handover_sheet(const Job& job, const Derived& derived, const SheetOptions& options, const Words& words,
                    const SheetTaker& taker) {
    TAPWRIGHT_ENSURE(derived.points.size() == job.all<Point>().size());
    TAPWRIGHT_ENSURE(derived.zones.size() == job.all<Zone>().size());
    TAPWRIGHT_ENSURE(derived.readings.size() == job.all<Reading>().size());
    const View view(job, derived, options, words);
    const bool for_owner = options.reader == SheetReader::owner;
    const Message kind = for_owner ? Message("owner's sheet") : Message("technician's sheet");

    outline::Document head;
    head.title = Message("{job}: {sheet}", {{"job", entered(cited(name_of(job, job_id()), 200))}, {"sheet", kind}});
    head.author = entered(cited(job.info().contractor.value_or(""), 200));
    head.created = start_of_day(options.time);
    head.footer = footer(view, kind);
    head.paper = options.paper;
    taker.begin(document::in_words(head, words));
    sheet::Blocks blocks([&](outline::Block&& block) {
        if (auto* table = std::get_if<outline::Table>(&block)) drop_empty_columns(*table);
        taker.take(document::in_words(std::move(block), words));
    });
    for_owner ? sheet::owner_sheet(view, blocks) : sheet::technician_sheet(view, blocks);
}

document::Document handover_sheet(const Job& job, const Derived& derived, const SheetOptions& options,
                                  const Words& words) {
    document::Document made;
    handover_sheet(job, derived, options, words,
                   {[&](const document::Document& head) { made = head; },
                    [&](document::Block&& block) { made.blocks.push_back(std::move(block)); }});
    return made;
}

}  // namespace tapwright
