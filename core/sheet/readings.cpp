// Readings as the technician needs them: the figure, what was expected, what it means, and under which conditions.
#include "core/readings/readings.h"

#include "core/sheet/parts.h"
#include "core/sheet/phrases.h"
#include "core/words/expected_text.h"
#include "core/words/readings_text.h"

namespace tapwright::sheet {
namespace {

using outline::Align;
using outline::Bullets;
using outline::Cell;
using outline::Table;
using outline::Tone;

Message positions(const View& view, const KnobMap& knobs) {
    bool all_full = true;
    Series each;
    for (const auto& [id, knob] : knobs) {
        all_full = all_full && !knob.off && knob.step.value() == 0;
        each.items.emplace_back(
            in_context("an attenuator and its position", "{attenuator} {position}",
                       {{"attenuator", entered(name_of(view.job, id))}, {"position", position_in_sentence(knob)}}));
    }
    return all_full ? Message("attenuators full") : Message(each);
}

Message conditions(const View& view, const Reading& reading) {
    std::vector<Message> parts = {shown_or_nothing(reading.hz)};
    if (reading.knobs && !reading.knobs->empty()) parts.push_back(positions(view, *reading.knobs));
    if (reading.isolated)
        parts.push_back(*reading.isolated ? Message("both conductors disconnected") : Message("not disconnected"));
    if (reading.override.value_or(false)) parts.push_back(Message("override active"));
    if (reading.signal && *reading.signal != Signal::none) parts.push_back(*reading.signal);
    if (reading.baseline.value_or(false)) parts.push_back(Message("baseline"));
    parts.push_back(typed(reading.instrument));
    parts.push_back(typed(reading.notes));
    return with_semicolons(std::move(parts));
}

Message day_of_reading(const View& view, const Reading& reading) {
    if (reading.time) return day_of(reading.time->text);
    const Visit* visit = view.job.find<Visit>(reading.visit);
    return visit ? day_or(visit->date, not_recorded()) : not_recorded();
}

bool is_judged(const Reading& reading) {
    return reading.quantity == Measured::ohms;
}

bool is_emergency(const Judgement& judged) {
    return judged.verdict == Verdict::not_judged && judged.unjudged == Unjudged::emergency;
}

// Whether it is the newest of its place: an older one is history, and its sentence would only repeat.
bool is_latest(const View& view, const Reading& reading, std::uint32_t at) {
    const auto zone = reading.at ? view.job.place<Zone>(*reading.at) : std::nullopt;
    const auto point = reading.at ? view.job.place<Point>(*reading.at) : std::nullopt;
    return zone ? view.zone_ohms[*zone] == at : !point || view.point_ohms[*point] == at;
}

Cell verdict(const Reading& reading, const Judgement& judged) {
    if (!is_judged(reading)) return {};
    const bool within = judged.limit == LimitState::ok;
    const bool is_unproven = judged.verdict != Verdict::not_judged && !judged.is_valid;
    Cell cell{with_semicolons({words_for(judged.verdict), is_unproven ? Message("unproven") : Message(),
                               judged.expected_now ? Message("read again") : Message(),
                               within ? Message() : words_for(judged.limit)}),
              tone_of(judged)};
    if (!within && cell.tone != Tone::stop) cell.tone = judged.limit == LimitState::stop ? Tone::stop : Tone::warning;
    return cell;
}

// A bound where something on the way is not recorded, in the words of every other place.
Message expected_of(const View& view, std::uint32_t at) {
    const Reading& reading = view.job.all<Reading>()[at];
    const Judgement& judged = view.derived.readings[at];
    if (!is_judged(reading) || is_emergency(judged) || !judged.expected) return {};
    return bounded(*judged.expected, view.statements.readings().not_recorded_for(at));
}

bool needs_explaining(const View& view, std::uint32_t at) {
    const Reading& reading = view.job.all<Reading>()[at];
    const Judgement& judged = view.derived.readings[at];
    return is_judged(reading) && judged.expected && !is_emergency(judged) && is_latest(view, reading, at) &&
           (judged.verdict != Verdict::agrees || judged.limit != LimitState::ok);
}

}  // namespace

void readings_table(const View& view, const std::vector<std::uint32_t>& readings, Message caption, Blocks& blocks) {
    if (readings.empty()) return;
    Table table;
    table.caption = std::move(caption);
    table.columns = {{Message("Where"), Align::start, 2},     {Message("What"), Align::start, 2},
                     {Message("Read"), Align::end, 1.7},      {Message("Expected"), Align::end, 2.4},
                     {Message("Verdict"), Align::start, 2.6}, {Message("Date"), Align::start, 1.9},
                     {Message("Conditions"), Align::start, 4}};
    Bullets explained;
    for (const std::uint32_t at : readings) {
        const Reading& reading = view.job.all<Reading>()[at];
        const Judgement& judged = view.derived.readings[at];
        table.rows.push_back({{called(view.job, reading.at)},
                              {shown(reading.quantity)},
                              {value_of(reading)},
                              {expected_of(view, at)},
                              verdict(reading, judged),
                              {day_of_reading(view, reading)},
                              {conditions(view, reading)}});
        if (needs_explaining(view, at))
            explained.items.push_back(in_context("reading", "{day}: {statement}",
                                                 {{"day", day_of_reading(view, reading)},
                                                  {"statement", view.statements.readings().statement_of(at).text}}));
    }
    blocks.push_back(std::move(table));
    if (!explained.items.empty()) blocks.emplace_back(std::move(explained));
}

}  // namespace tapwright::sheet
