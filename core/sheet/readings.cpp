// Readings as the technician needs them: the figure, what was expected, what it means, and under which conditions.
#include "core/readings/readings.h"

#include "core/base/text.h"
#include "core/sheet/parts.h"
#include "core/sheet/words.h"
#include "core/words/readings_text.h"

namespace tapwright::sheet {
namespace {

using document::Align;
using document::Bullets;
using document::Cell;
using document::Table;
using document::Tone;

std::string knobs_text(const View& view, const KnobMap& knobs) {
    bool all_full = !knobs.empty();
    std::string text;
    for (const auto& [id, knob] : knobs) {
        all_full = all_full && !knob.off && knob.step.value() == 0;
        text += (text.empty() ? "" : ", ") + name_of(view.job, id) + " " + (knob.off ? "off" : show(knob.step));
    }
    return all_full ? "knobs full" : text;
}

std::string conditions(const View& view, const Reading& reading) {
    std::vector<std::string> parts;
    if (reading.hz) parts.push_back(show(*reading.hz));
    if (reading.knobs && !reading.knobs->empty()) parts.push_back(knobs_text(view, *reading.knobs));
    if (reading.isolated) parts.push_back(*reading.isolated ? "both legs lifted" : "not isolated");
    if (reading.override.value_or(false)) parts.push_back("override active");
    if (reading.signal && *reading.signal != Signal::none) parts.push_back(std::string(word(*reading.signal)));
    if (reading.baseline.value_or(false)) parts.push_back("baseline");
    if (reading.instrument) parts.push_back(*reading.instrument);
    if (reading.notes) parts.push_back(*reading.notes);
    std::string text;
    for (const std::string& part : parts) text += (text.empty() ? "" : "; ") + part;
    return text;
}

std::string date_of(const View& view, const Reading& reading) {
    if (reading.time) return day_of(reading.time->text);
    const Visit* visit = view.job.find<Visit>(reading.visit);
    return visit ? date_or(visit->date, not_recorded) : not_recorded;
}

bool is_judged(const Reading& reading) {
    return reading.quantity == Measured::ohms;
}

// Whether it is the newest of its place: an older one is history, and its sentence would only repeat.
bool is_latest(const View& view, const Reading& reading, std::uint32_t at) {
    const auto zone = reading.at ? view.job.place<Zone>(*reading.at) : std::nullopt;
    const auto point = reading.at ? view.job.place<Point>(*reading.at) : std::nullopt;
    return zone ? view.zone_ohms[*zone] == at : !point || view.point_ohms[*point] == at;
}

Cell verdict(const Reading& reading, const Judgement& judged) {
    if (!is_judged(reading)) return {""};
    Cell cell{in_words(judged.verdict), tone_of(judged.verdict)};
    if (judged.limit == LimitState::ok) return cell;
    const bool stop = judged.limit == LimitState::stop;
    cell.text += stop ? "; beyond what its source may carry" : "; above its limit";
    if (cell.tone != Tone::stop) cell.tone = stop ? Tone::stop : Tone::warning;
    return cell;
}

}  // namespace

void readings_table(const View& view, const std::vector<std::uint32_t>& readings, const std::string& caption,
                    Blocks& blocks) {
    if (readings.empty()) return;
    Table table;
    table.caption = caption;
    table.columns = {{"Where", Align::start, 2},     {"What", Align::start, 2},      {"Read", Align::end, 1.7},
                     {"Expected", Align::end, 2.4},  {"Verdict", Align::start, 2.6}, {"Date", Align::start, 1.9},
                     {"Conditions", Align::start, 4}};
    Bullets explained;
    for (const std::uint32_t at : readings) {
        const Reading& reading = view.job.all<Reading>()[at];
        const Judgement& judged = view.derived.readings[at];
        table.rows.push_back({{name_of(view.job, reading.at)},
                              {reading.quantity ? in_words(*reading.quantity) : not_recorded},
                              {reading_value(reading)},
                              {is_judged(reading) && judged.expected ? show(*judged.expected) : ""},
                              verdict(reading, judged),
                              {date_of(view, reading)},
                              {conditions(view, reading)}});
        if (is_judged(reading) && judged.expected && is_latest(view, reading, at) &&
            (judged.verdict != Verdict::agrees || judged.limit != LimitState::ok))
            explained.items.push_back(date_of(view, reading) + ", " + name_of(view.job, reading.at) + ": " +
                                      sentence(view.job, view.derived, at));
    }
    blocks.push_back(std::move(table));
    if (!explained.items.empty()) blocks.push_back(std::move(explained));
}

}  // namespace tapwright::sheet
