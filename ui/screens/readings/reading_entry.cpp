// Taking a reading: the caution, the pad, and what the figure would prove while it is typed.
#include <array>

#include "core/readings/readings.h"
#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"

namespace tapwright::ui {
namespace {

constexpr std::array quantity_titles = {"Impedance",
                                        "Direct-current resistance",
                                        "Resistance to earth",
                                        "Resistance to another line",
                                        "Stray voltage",
                                        "Line voltage",
                                        "Sound level",
                                        "Noise",
                                        "Tap found"};
static_assert(quantity_titles.size() == ChoiceWords<Measured>::words.size());

// The attenuators of the zone, all straight through.
KnobMap all_full(const Session& session, const Id& at) {
    KnobMap knobs;
    for (const std::uint32_t place : attenuators_at(session, at))
        knobs.emplace_back(session.job().all<Point>()[place].id, Knob{});
    return knobs;
}

Map fields_of(const Reading& reading) {
    Map fields = {
        {"at", reading.at->text()}, {"quantity", std::string(word(*reading.quantity))}, {"value", *reading.value}};
    if (reading.over_range) fields.emplace_back("over_range", true);
    if (reading.isolated) fields.emplace_back("isolated", *reading.isolated);
    if (reading.baseline) fields.emplace_back("baseline", true);
    if (reading.knobs) {
        Map knobs;
        for (const auto& [point, knob] : *reading.knobs) knobs.emplace_back(point.text(), knob.step.value());
        if (!knobs.empty()) fields.emplace_back("knobs", Value(std::move(knobs)));
    }
    return fields;
}

}  // namespace

VerdictWords verdict_words(const Judgement& judgement) {
    VerdictWords words;
    switch (judgement.verdict) {
        case Verdict::not_judged:
            words = {Tone::plain, "not judged"};
            break;
        case Verdict::open:
            words = {Tone::warning, "open line"};
            break;
        case Verdict::shorted:
            words = {Tone::stop, "short"};
            break;
        case Verdict::more_load:
            words = {Tone::warning, "more load"};
            break;
        case Verdict::less_load:
            words = {Tone::warning, "less load"};
            break;
        case Verdict::drifted:
            words = {Tone::note, "off baseline"};
            break;
        case Verdict::agrees:
            words = {Tone::good, "agrees"};
            break;
    }
    if (judgement.limit == LimitState::stop) words.tone = Tone::stop;
    if (judgement.limit == LimitState::warn && words.tone != Tone::stop) words.tone = Tone::warning;
    return words;
}

std::string measured_title(Measured quantity) {
    return quantity_titles[static_cast<std::size_t>(quantity)];
}

std::string band_words(const Judgement& judgement) {
    if (!judgement.expected) return "not known yet: taps or the line are not recorded";
    std::string words = show(*judgement.expected);
    if (judgement.low && judgement.high)
        words += ", right from " + show(*judgement.low) + " to " + show(*judgement.high);
    return words;
}

void ReadingEntry::begin(Context& context, const Id& at, Measured quantity) {
    at_ = at;
    quantity_ = quantity;
    choosing_ = baseline_ = over_range_ = false;
    const std::string visit = shared_.author().visit;
    bool is_first = !(cautioned_ && cautioned_visit_ == visit);
    for (const Reading& reading : context.session->job().all<Reading>())
        if (!visit.empty() && reading.visit && reading.visit->text() == visit) is_first = false;
    (is_first ? caution_open_ : pad_open_) = true;
}

Reading ReadingEntry::draft(double value) const {
    Reading reading;
    if (at_ != Id()) reading.at = at_;
    reading.quantity = quantity_;
    reading.value = value;
    if (over_range_) reading.over_range = true;
    if (quantity_ == Measured::ohms) {
        if (isolated_) reading.isolated = true;  // untouched: not known
        if (baseline_) reading.baseline = true;
    }
    return reading;
}

void ReadingEntry::look(const Session& session) {
    const std::string now = pad_.text + '|' + at_.text() + '|' + std::to_string(static_cast<int>(quantity_)) +
                            std::to_string(full_ * 8 + isolated_ * 4 + over_range_ * 2 + baseline_) + '|' +
                            std::to_string(session.batch_count());
    if (now == looked_at_) return;
    looked_at_ = now;
    judgement_ = {};
    sentence_.clear();
    if (at_ == Id()) return;
    const Result<double> value = parse_number(pad_.text, unit_of_reading(quantity_));
    // What is expected does not hang on the figure: any one brings it.
    Reading reading = draft(value ? *value : 1);
    if (full_) reading.knobs = all_full(session, at_);
    judgement_ = judge(session.job(), reading);
    if (value) sentence_ = sentence(session.job(), reading, judgement_);
}

void ReadingEntry::draw(Context& context) {
    if (Sheet sheet(context, "caution", "Before the first reading", caution_open_); sheet) {
        int number = 0;
        for (const Message& caution : measuring_cautions())
            tone_box(context, "caution." + std::to_string(number++), Tone::warning, in_english(caution));
        if (button(context, "caution.done", "All done: measure",
                   {.kind = ButtonKind::primary, .shape = Shape::check})) {
            caution_open_ = false;
            cautioned_ = pad_open_ = true;
            cautioned_visit_ = shared_.author().visit;
        }
    }
    const Session& session = *context.session;
    const std::string where = at_ == Id() ? "a new zone" : name_of(session.job(), at_);
    if (Sheet sheet(context, "entry", measured_title(quantity_) + " at " + where, pad_open_); sheet)
        draw_pad(context, session);
}

// Nothing moves while a figure is typed: the verdict has its line from the start, the sentence comes below the pad.
void ReadingEntry::draw_pad(Context& context, const Session& session) {
    look(session);
    const bool is_ohms = quantity_ == Measured::ohms;
    if (is_ohms) draw_verdict(context);
    draw_conditions(context, session);
    const Unit unit = unit_of_reading(quantity_);
    const std::string label = over_range_ ? "Over range: type the meter's range" : measured_title(quantity_);
    const PadEvent event =
        number_pad(context, "pad", pad_, {.label = label, .unit = words_of(unit).shown, .keep_label = "Keep"});
    if (event == PadEvent::keep) keep(context, session);
    if (!sentence_.empty()) tone_box(context, "entry.sentence", verdict_words(judgement_).tone, sentence_);
    draw_quantities(context);
}

void ReadingEntry::draw_verdict(Context& context) {
    label_value(context, "entry.band", "Expected", band_words(judgement_));
    const VerdictWords words = verdict_words(judgement_);
    const bool typed = !sentence_.empty();
    tone_badge(context, typed ? words.tone : Tone::plain, typed ? words.word : "type what the meter shows");
    if (typed) mark(context, "entry.verdict", words.word, true, false);
}

// How the line stood while it was measured, each in one touch.
void ReadingEntry::draw_conditions(Context& context, const Session& session) {
    std::vector<Choice> choices = {{"Over range"}};
    std::vector<bool*> values = {&over_range_};
    if (quantity_ == Measured::ohms) {
        choices.insert(choices.end(), {{"Legs lifted"}, {"Baseline"}});
        values.insert(values.end(), {&isolated_, &baseline_});
        if (at_ != Id() && !all_full(session, at_).empty()) {
            choices.push_back({"All knobs full"});
            values.push_back(&full_);
        }
    }
    unsigned chosen = 0;
    for (std::size_t i = 0; i < values.size(); ++i) chosen |= *values[i] ? 1U << i : 0U;
    const int tapped = several_row(context, "entry.state", choices, chosen);
    if (tapped >= 0) *values[static_cast<std::size_t>(tapped)] = !*values[static_cast<std::size_t>(tapped)];
}

void ReadingEntry::draw_quantities(Context& context) {
    if (!choosing_) {
        if (button(context, "entry.quantity", "Something else was measured", {.kind = ButtonKind::quiet}))
            choosing_ = true;
        return;
    }
    std::vector<Choice> choices;
    for (const char* title : quantity_titles) choices.push_back({title});
    if (const int tapped = choice_row(context, "entry.quantity", choices, static_cast<int>(quantity_)); tapped >= 0) {
        quantity_ = static_cast<Measured>(tapped);
        choosing_ = false;
    }
}

void ReadingEntry::keep(Context& context, const Session& session) {
    const Unit unit = unit_of_reading(quantity_);
    const Result<double> value = parse_number(pad_.text, unit);
    if (!value) {
        pad_.problem = in_english(value.refusal());
        return;
    }
    ChangeList changes;
    Id at = at_;
    std::string where;
    if (at == Id()) {
        at = IdMaker(shared_.stamp().seed).make(Kind::zone);
        where = "Zone 1";
        changes.push_back({ChangeOp::add, Kind::zone, at, {{"name", where}}});
    } else {
        where = name_of(session.job(), at);
    }
    Reading reading = draft(*value);
    reading.at = at;
    if (full_ && quantity_ == Measured::ohms) reading.knobs = all_full(session, at);
    changes.push_back(adding(Kind::reading, fields_of(reading)));
    shared_.ask(context, std::move(changes),
                measured_title(quantity_) + " of " + show_number(*value, unit) + " at " + where,
                [this](const std::vector<Id>&) {
                    pad_ = {};
                    pad_open_ = false;
                });
}

}  // namespace tapwright::ui
