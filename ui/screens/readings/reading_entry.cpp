// Taking readings, one or those of a line in one go: the question about fire lines, the cautions, the pad, and what is
// kept. How the page with the pad looks: reading_pad.cpp.
#include <algorithm>
#include <utility>

#include "core/calc/emergency.h"
#include "core/job/field_text.h"
#include "core/readings/readings.h"
#include "core/units/parse.h"
#include "core/units/unit.h"
#include "core/words/readings_text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// The attenuators of the zone, all straight through.
KnobMap all_full(const Session& session, const Id& at) {
    KnobMap knobs;
    for (const std::uint32_t place : attenuators_at(session, at))
        knobs.emplace_back(session.job().all<Point>()[place].id, Knob{});
    return knobs;
}

constexpr double ohms_in_a_megohm = 1e6;

std::string first_zone_name(const Context& context) {
    return context.words.text(Message("Zone {number}", {{"number", 1}}));
}

Map fields_of(const Reading& reading) {
    Map fields = {{"at", reading.at->text()}, {"quantity", std::string(word(*reading.quantity))}};
    if (reading.value) fields.emplace_back("value", *reading.value);
    if (reading.over_range) fields.emplace_back("over_range", true);
    if (reading.range_ohm) fields.emplace_back("range_ohm", reading.range_ohm->value());
    if (reading.isolated) fields.emplace_back("isolated", *reading.isolated);
    if (reading.baseline) fields.emplace_back("baseline", true);
    if (reading.knobs) {
        Map knobs;
        for (const auto& [point, knob] : *reading.knobs)
            knobs.emplace_back(point.text(), knob.off ? Value("off") : Value(knob.step.value()));
        if (!knobs.empty()) fields.emplace_back("knobs", Value(std::move(knobs)));
    }
    return fields;
}

}  // namespace

bool is_in_megohms(Measured quantity) {
    return quantity == Measured::earth_ohms || quantity == Measured::cross_ohms;
}

std::optional<Proposal> record_without(const Session& session, const Shared& shared, const Id& speaker) {
    Result<Proposal> made = session.propose(
        Command{.changes = {setting(Kind::point, speaker, {{"wired", "off"}})}, .fill_in = true, .place = {}},
        shared.author(), shared.stamp());
    if (!made) return std::nullopt;
    return std::move(*made);
}

void ReadingEntry::begin(Context& context, const Id& at, Measured quantity) {
    without_.reset();
    test_.reset();
    start(context, at, quantity);
}

void ReadingEntry::begin_turned(Context& context, const Id& at, KnobMap turned) {
    without_.reset();
    test_.reset();
    start(context, at, Measured::ohms);
    turned_ = std::move(turned);
}

void ReadingEntry::begin_without(Context& context, const Id& at, const Id& speaker, bool all_full, Taken taken) {
    without_ = WithoutOne{speaker, std::move(taken)};
    test_.reset();
    start(context, at, Measured::ohms);
    full_ = all_full;
}

void ReadingEntry::begin_test(Context& context, const Id& line) {
    without_.reset();
    test_ = Test();
    start(context, line, Measured::stray_v);
}

void ReadingEntry::start(Context& context, const Id& at, Measured quantity) {
    at_ = at;
    clear(quantity);
    answer_.reset();
    pad_open_ = caution_open_ = false;
    const Session& session = *context.session;
    const std::optional<tapwright::Answer> known = emergency_of(session.job(), session.derived(), at);
    if (known == tapwright::Answer::yes)
        return context.requests.say(Tone::stop, leave_to_qualified(session.job(), at).text);
    if (measures_line() && !known && !session.job().find<Room>(at)) {
        question_open_ = true;
        return;
    }
    go_on(session);
}

// An entry begins empty: no figure, and nothing of how the line stood for the one before.
void ReadingEntry::clear(Measured quantity) {
    quantity_ = quantity;
    pad_ = {};
    baseline_ = over_range_ = isolated_ = full_ = why_open_ = searches_ = false;
    turned_.clear();
    checklist_ = {};
    asked_.forget();
}

// To the cautions where they were not worked through on this line yet: the next one may be live. Else to the pad.
// Taking a loudspeaker off is gone through each time, and so is what a test of a line goes by.
void ReadingEntry::go_on(const Session& session) {
    const std::optional<CautionMoment> before = moment();
    const bool is_told =
        !before || (!without_ && !test_ && at_ != Id() && is_cautioned(shared_, session, *before, at_));
    (is_told ? pad_open_ : caution_open_) = true;
}

// The next reading of a line's test.
void ReadingEntry::to_step(Measured quantity) {
    clear(quantity);
    pad_open_ = quantity != Measured::earth_ohms;
    caution_open_ = !pad_open_;
    if (quantity != Measured::ohms) return;
    isolated_ = test_->disconnected;
    full_ = test_->full;
    test_->disconnected = test_->full = false;
}

// Another quantity at the same place: a reading of its own, or an earlier or later step of the test.
void ReadingEntry::choose(Context& context, Measured quantity) {
    pad_open_ = false;
    const bool is_step = quantity == Measured::ohms || quantity == Measured::earth_ohms;
    if (test_ && quantity_ == Measured::stray_v && is_step) return to_step(quantity);
    if (test_ && quantity_ == Measured::ohms && quantity == Measured::earth_ohms) return to_step(quantity);
    begin(context, at_, quantity);
}

// A test begins with the steps that its reading of ohms needs: stray volts are read on the dead line.
std::optional<CautionMoment> ReadingEntry::moment() const {
    if (without_) return CautionMoment::taking_off;
    return test_ && quantity_ == Measured::stray_v ? CautionMoment::dead_reading : moment_before(quantity_);
}

bool ReadingEntry::measures_line() const {
    const std::optional<CautionMoment> moment = moment_before(quantity_);
    return moment && moment != CautionMoment::tone;
}

bool ReadingEntry::measures_dead_line() const {
    const std::optional<CautionMoment> moment = moment_before(quantity_);
    return moment == CautionMoment::dead_reading || moment == CautionMoment::insulation;
}

Reading ReadingEntry::draft(double value) const {
    Reading reading;
    if (at_ != Id()) reading.at = at_;
    reading.quantity = quantity_;
    if (over_range_) {
        reading.over_range = true;
        if (unit_of_reading(quantity_) == Unit::ohm) reading.range_ohm = Ohms(value);
    } else {
        reading.value = value;
    }
    if (measures_dead_line() && isolated_) reading.isolated = true;  // untouched: not known
    if (quantity_ == Measured::ohms && baseline_) reading.baseline = true;
    return reading;
}

void ReadingEntry::look(const Session& session) {
    const Asked now{pad_.text, at_, quantity_, full_, isolated_, over_range_, baseline_};
    if (asked_.still(session, now)) return;
    judgement_ = {};
    statement_.reset();
    lines_ = {Tone::plain, over_range_ ? Message("Type the meter's range") : Message("Type what the meter shows"),
              Message()};
    if (at_ == Id()) return;
    const Result<double> value = typed();
    // What is expected does not depend on the figure: any one brings it.
    Reading reading = draft(value ? *value : 1);
    if (const KnobMap knobs = positions(session); !knobs.empty() || full_) reading.knobs = knobs;
    judge_draft(session, reading, value.ok());
    if (statement_) lines_ = verdict_lines(reading, judgement_, *statement_);
}

// Of the attenuators, as noted with the reading.
KnobMap ReadingEntry::positions(const Session& session) const {
    return full_ ? all_full(session, at_) : turned_;
}

// In the quantity's own unit.
Result<double> ReadingEntry::typed() const {
    Result<double> value = parse_number(pad_.text, unit_of_reading(quantity_));
    if (value && is_in_megohms(quantity_)) return *value * ohms_in_a_megohm;
    return value;
}

void ReadingEntry::judge_draft(const Session& session, const Reading& reading, bool has_figure) {
    if (without_) {
        const std::optional<Proposal> off = record_without(session, shared_, without_->speaker);
        if (!off) return;
        judgement_ = judge(off->job, off->derived, reading);
        missing_ = missing_for(off->job, off->derived, reading);
        missing_of_all_ = missing_of_all_for(off->job, off->derived, reading);
        if (has_figure) statement_ = statement_of(off->job, off->derived, reading, judgement_);
        return;
    }
    judgement_ = judge(session.job(), session.derived(), reading);
    missing_ = missing_for(session.job(), session.derived(), reading);
    missing_of_all_ = missing_of_all_for(session.job(), session.derived(), reading);
    if (has_figure) statement_ = statement_of(session.job(), session.derived(), reading, judgement_);
}

void ReadingEntry::draw(Context& context) {
    const Session& session = *context.session;
    if (search_on_ != Id()) context.requests.open(find_fault_screen(shared_, std::exchange(search_on_, Id())));
    if (Sheet sheet(context, "emergency", Message("Before anything is measured"), question_open_); sheet)
        draw_question(context, session);
    const Message before =
        measures_line() ? Message("Before the first reading on this line") : Message("Before you measure here");
    if (Sheet sheet(context, "caution", before, caution_open_); sheet) draw_cautions(context, session);
    if (Sheet sheet(context, "entry", title(session), pad_open_, SheetSize::whole); sheet)
        draw_pad(context, session, sheet);
}

Message ReadingEntry::title(const Session& session) const {
    const Message quantity = measured_title(quantity_);
    if (at_ == Id()) return Message("{quantity} at a new zone", {{"quantity", quantity}});
    const Message place = entered(name_of(session.job(), at_));
    if (!turned_.empty() && !full_)
        return Message("{quantity} at {place}, {attenuator} turned down",
                       {{"quantity", quantity},
                        {"place", place},
                        {"attenuator", entered(name_of(session.job(), turned_.front().first))}});
    if (without_)
        return Message("{quantity} at {place}, without {speaker}",
                       {{"quantity", quantity},
                        {"place", place},
                        {"speaker", entered(name_of(session.job(), without_->speaker))}});
    return Message("{quantity} at {place}", {{"quantity", quantity}, {"place", place}});
}

void ReadingEntry::draw_question(Context& context, const Session& session) {
    statement_box(context, "emergency.question", Tone::warning,
                  {emergency_question(),
                   in_one(cautions_for(CautionMoment::existing_system, session.job(), session.derived(), at_)).why});
    answer_ = emergency_keys(context, "emergency");
    if (!answer_) return;
    question_open_ = false;
    const bool is_one = answer_ == tapwright::Answer::yes;
    if (at_ != Id()) {
        const Argument line = entered(name_of(session.job(), line_of(session, at_)));
        shared_.ask(context, emergency_answer(session, at_, *answer_),
                    is_one ? Message("{place}: fire or emergency line", {{"place", line}})
                           : Message("{place}: not a fire or emergency line", {{"place", line}}));
    } else if (is_one) {
        shared_.ask(context, {adding(Kind::zone, {{"name", first_zone_name(context)}, {"emergency", "yes"}})},
                    Message("{place}: fire or emergency line", {{"place", entered(first_zone_name(context))}}));
    }
    if (!is_one) return go_on(session);
    context.requests.say(Tone::stop,
                         Message("Stop, and leave this line to qualified people. It is recorded as a fire or "
                                 "emergency line, and nothing of it is calculated."));
}

// Each step is ticked off, in the order of the work. What was ticked for one line is not ticked for the next.
void ReadingEntry::draw_cautions(Context& context, const Session& session) {
    const std::optional<CautionMoment> before = moment();
    if (!before) return;
    const Id place = without_ ? without_->speaker : at_;
    const bool has_positions = at_ != Id() && !all_full(session, at_).empty();
    if (checklist_.draw(context, "caution", at_, cautions_for(*before, session.job(), session.derived(), place),
                        {.asks_positions = has_positions, .is_numbered = true, .confirm = Message("All done")}))
        cautions_done(session, *before);
}

// What was ticked holds for the reading that is taken now, and for no other.
void ReadingEntry::cautions_done(const Session& session, CautionMoment before) {
    caution_open_ = false;
    pad_open_ = true;
    const bool is_full = checklist_.positions() == Checklist::Positions::full;
    if (test_ && quantity_ == Measured::stray_v) {
        test_ = Test{checklist_.is_disconnected(), is_full};
    } else {
        isolated_ = checklist_.is_disconnected();
        if (!without_) full_ = is_full;
    }
    if (at_ != Id()) note_cautioned(shared_, session, before, at_);
}

void ReadingEntry::keep(Context& context, const Session& session) {
    const Unit unit = unit_of_reading(quantity_);
    const Result<double> value = typed();
    if (!value) {
        pad_.problem = value.refusal().message;
        return;
    }
    ChangeList changes;
    Id at = at_;
    std::string where;
    if (at == Id()) {
        at = IdMaker(shared_.stamp().seed).make(Kind::zone);
        where = first_zone_name(context);
        changes.push_back({ChangeOp::add, Kind::zone, at, {{"name", where}}});
        if (answer_) changes.back().fields.emplace_back("emergency", std::string(word(*answer_)));
        if (measures_dead_line() && isolated_) changes.back().fields.emplace_back("disconnected", true);
    } else {
        where = name_of(session.job(), at);
    }
    Reading reading = draft(*value);
    reading.at = at;
    if (quantity_ == Measured::ohms && at_ != Id())
        if (const KnobMap knobs = positions(session); !knobs.empty() || full_) reading.knobs = knobs;
    if (without_) return take_without(context, session, reading);
    changes.push_back(adding(Kind::reading, fields_of(reading)));
    if (measures_dead_line() && isolated_)
        for (const Id& zone : zones_at(session, at))
            changes.push_back(setting(Kind::zone, zone, {{"disconnected", true}}));
    shared_.ask(
        context, std::move(changes),
        Message("{quantity} at {place}: {value}",
                {{"quantity", measured_title(quantity_)}, {"place", entered(where)}, {"value", Figure{*value, unit}}}),
        [this, reading, line = searches_ ? line_to_search(session, at) : Id(),
         said = statement_ ? statement_->text : Message()](const std::vector<Id>&) {
            saved(reading, said);
            search_on_ = line;
        });
}

// Closes the entry, or goes on to the next step of a test; not past volts on the line.
void ReadingEntry::saved(const Reading& reading, const Message& said) {
    pad_ = {};
    pad_open_ = false;
    if (!test_) return;
    const bool is_live = reading.over_range.value_or(false) || Volts(reading.value.value_or(0)) >= least_stray_volts;
    if (reading.quantity == Measured::stray_v && !is_live) return to_step(Measured::ohms);
    if (reading.quantity == Measured::stray_v) shared_.say(Tone::stop, said);
    if (reading.quantity == Measured::ohms) return to_step(Measured::earth_ohms);
    test_.reset();
}

// The line is not as recorded while one loudspeaker is off, so the figure is handed on and no reading of it is kept.
void ReadingEntry::take_without(Context& context, const Session& session, const Reading& reading) {
    pad_ = {};
    pad_open_ = false;
    without_->taken(reading);
    ChangeList changes;
    if (isolated_)
        for (const Id& zone : zones_at(session, at_))
            if (!session.job().find<Zone>(zone)->disconnected.value_or(false))
                changes.push_back(setting(Kind::zone, zone, {{"disconnected", true}}));
    if (changes.empty()) return context.requests.another_frame();
    shared_.ask(context, std::move(changes),
                Message("{zone} is disconnected", {{"zone", entered(name_of(session.job(), line_of(session, at_)))}}));
}

}  // namespace tapwright::ui
