// What was found and how: each line on which something does not fit, what was seen of it, what explains that best, and
// what would tell more.
#include "core/faults/next_measurement.h"
#include "core/sheet/parts.h"
#include "core/words/faults_text.h"
#include "core/words/readings_text.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Heading;
using outline::Paragraph;
using outline::Table;

// Where the latest reading at some place of the line does not fit.
bool is_sought(const View& view, std::uint32_t zone) {
    const auto does_not_fit = [&](std::uint32_t reading) {
        return reading != nowhere && can_be_sought(view.job, view.derived, reading);
    };
    if (does_not_fit(view.zone_ohms[zone])) return true;
    for (const std::uint32_t point : view.zone_points[zone])
        if (does_not_fit(view.point_ohms[point])) return true;
    return false;
}

Message next_of(const View& view, const Diagnosis& diagnosis) {
    NextMeasurement search(view.job, diagnosis, {});
    while (search.step()) {
    }
    const std::vector<Measurement> next = search.best(1);
    return next.empty() ? Message() : text_of(view.job, next.front());
}

}  // namespace

void faults_section(const View& view, Blocks& blocks) {
    Table table;
    table.caption = Message("What does not fit, and what explains it best");
    table.columns = {{Message("Line"), Align::start, 1.6},
                     {Message("Seen"), Align::start, 3},
                     {Message("Explained by"), Align::start, 3.4},
                     {Message("Chance"), Align::end, 1.1},
                     {Message("Next"), Align::start, 2.6}};
    for (std::uint32_t zone = 0; zone < view.zone_points.size(); ++zone) {
        if (!is_sought(view, zone)) continue;
        const Id& id = view.job.all<Zone>()[zone].id;
        FaultQuestion question;
        question.zone = id;
        const Result<Diagnosis> diagnosis = Diagnosis::of(view.job, view.derived, question);
        if (!diagnosis) continue;
        const Cause& first = diagnosis->causes().front();
        const bool is_something_else = diagnosis->unexplained() > first.chance;
        table.rows.push_back({{entered(name_of(view.job, id))},
                              {sentences({what_was_read(view.job, *diagnosis), what_was_heard(view.job, *diagnosis)})},
                              {is_something_else ? Message("Something else: no cause known here.")
                                                 : text_of(view.job, *diagnosis, first)},
                              {chance_in_words(is_something_else ? diagnosis->unexplained() : first.chance)},
                              {next_of(view, *diagnosis)}});
    }
    if (table.rows.empty()) return;
    blocks.push_back(Heading{2, Message("What was found and how")});
    blocks.push_back(std::move(table));
    blocks.push_back(Paragraph{limits_of_faults()});
}

}  // namespace tapwright::sheet
