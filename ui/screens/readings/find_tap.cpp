// The tap of a loudspeaker that nobody can see, from two readings of its zone: one with it on the line, one without.
#include "core/calc/emergency.h"
#include "core/readings/readings.h"
#include "core/readings/with_without.h"
#include "core/words/between_text.h"
#include "core/words/readings_text.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"

namespace tapwright::ui {
namespace {

bool all_stood_full(const Reading& reading) {
    if (!reading.knobs || reading.knobs->empty()) return false;
    for (const auto& [attenuator, knob] : *reading.knobs)
        if (!(knob == Knob{})) return false;
    return true;
}

class FindTapScreen : public ScreenOfRecord {
public:
    FindTapScreen(Shared& shared, Id speaker)
        : ScreenOfRecord(shared, std::move(speaker), Message("Tap from two readings")),
          entry_(shared),
          reconnect_(shared) {}

    // The next step, within the thumb's reach.
    void draw_foot(Context& context) override {
        const Session& session = *context.session;
        const Message zone = zone_name(session);
        if (step(session) == Step::with) {
            if (button(context, "find_tap.with",
                       Message("Read {zone} with {speaker}", {{"zone", zone}, {"speaker", name(session)}}),
                       {.kind = ButtonKind::primary, .shape = Shape::plus}))
                read_with(context);
        } else if (step(session) == Step::without) {
            if (button(context, "find_tap.without",
                       Message("Read {zone} without {speaker}", {{"zone", zone}, {"speaker", name(session)}}),
                       {.kind = ButtonKind::primary, .shape = Shape::plus}))
                read_without(context);
        } else if (const std::optional<Watts> tap = proposed()) {
            if (button(context, "find_tap.record", Message("Record {tap} as found", {{"tap", *tap}}),
                       {.kind = ButtonKind::primary, .shape = Shape::check}))
                record(context, *tap);
        }
    }

private:
    enum class Step : std::uint8_t { none, with, without, told };

    Message title_of_record(Context& context, const Job&) override {
        return Message("Tap of {speaker}", {{"speaker", name(*context.session)}});
    }

    void draw_record(Context& context, const Job& job) override {
        const Session& session = *context.session;
        if (is_emergency(session))
            return statement_box(context, "find_tap.stop", Tone::stop, leave_to_qualified(job, id_));
        if (!zone(session))
            return tone_box(context, "find_tap.problem", Tone::note,
                            Message("{speaker} is on no zone yet. Trace it and record what feeds it first.",
                                    {{"speaker", name(session)}}));
        look(session);
        paragraph(context, Message("Read {zone} with {speaker} and without it. The difference is what it draws.",
                                   {{"zone", zone_name(session)}, {"speaker", name(session)}}));
        draw_with(context, session);
        if (step(session) != Step::with) draw_without(context, session);
        if (pair_ && said_) draw_result(context);
        draw_reconnect(context, session);
        entry_.draw(context);
    }
    bool has_record_foot(Context& context, const Job&) override {
        const Session& session = *context.session;
        if (is_emergency(session) || !zone(session)) return false;
        return step(session) != Step::told || proposed();
    }

    bool is_emergency(const Session& session) const {
        return emergency_of(session.job(), session.derived(), id_) == tapwright::Answer::yes;
    }
    Message name(const Session& session) const { return entered(name_of(session.job(), id_)); }
    Message zone_name(const Session& session) const {
        return entered(name_of(session.job(), zone(session).value_or(id_)));
    }
    std::optional<Id> zone(const Session& session) const {
        const Id line = line_of(session, id_);
        return session.job().has(Kind::zone, line) ? std::optional(line) : std::nullopt;
    }

    // The one with it: the latest valid one of the zone, of this visit or day; an older one where somebody says so.
    std::optional<std::uint32_t> with(const Session& session) const {
        const std::optional<Id> line = zone(session);
        if (!line) return std::nullopt;
        const std::optional<std::uint32_t> latest = latest_valid_at(session.job(), session.derived(), *line);
        if (!latest || uses_older_ || is_of_today(session.job().all<Reading>()[*latest])) return latest;
        return std::nullopt;
    }
    bool is_of_today(const Reading& reading) const {
        Reading now;
        now.time = Time{shared_.stamp().time};
        if (const std::string visit = shared_.author().visit; !visit.empty()) now.visit = Id(visit);
        return is_same_stay(reading, now);
    }

    Step step(const Session& session) const {
        if (!with(session)) return Step::with;
        return pair_ ? Step::told : Step::without;
    }
    std::optional<Watts> proposed() const {
        if (!pair_ || pair_->fault != PairFault::none || !pair_->between.proposed) return std::nullopt;
        return pair_->between.taps[*pair_->between.proposed].tap;
    }

    void read_with(Context& context) { entry_.begin(context, *zone(*context.session)); }
    void read_without(Context& context) {
        const Session& session = *context.session;
        const Reading& then = session.job().all<Reading>()[*with(session)];
        entry_.begin_without(context, *zone(session), id_, all_stood_full(then),
                             [this](const Reading& reading) { without_ = reading; });
    }

    // What the two say, worked out once for each state of the job.
    void look(const Session& session) {
        if (!without_) return;
        if (seen_.still(session, *without_->value, without_->isolated.value_or(false))) return;
        pair_.reset();
        const std::optional<Proposal> off = record_without(session, shared_, id_);
        if (!off) return;
        const Judgement judgement = judge(off->job, off->derived, *without_);
        pair_ = pair_without(session.job(), session.derived(), id_, *without_, judgement);
        said_ = statement_of(session.job(), id_, *pair_, *without_,
                             statement_of(off->job, off->derived, *without_, judgement).text);
    }

    void draw_with(Context& context, const Session& session) {
        section_title(context, Message("1. With {speaker}", {{"speaker", name(session)}}));
        const std::optional<std::uint32_t> used = with(session);
        const std::optional<std::uint32_t> latest = latest_valid_at(session.job(), session.derived(), *zone(session));
        if (!latest)
            return quiet_paragraph(context, Message("Not read yet: everything connected, the amplifier off the line."));
        const Reading& reading = session.job().all<Reading>()[*latest];
        label_value(context, "find_tap.with.figure", when(reading), reading_figure(reading));
        if (const std::optional<std::uint32_t> newer = unusable_after(session, *latest)) draw_unusable(context, *newer);
        if (!used && button(context, "find_tap.use", Message("Use this reading: nothing has changed since")))
            uses_older_ = true;
        if (used && button(context, "find_tap.with_again", Message("Read it again"), {.kind = ButtonKind::quiet}))
            read_with(context);
    }

    // One of ohms that was entered after the one in use, and shows nothing.
    std::optional<std::uint32_t> unusable_after(const Session& session, std::uint32_t used) const {
        const auto readings = session.job().all<Reading>();
        for (std::size_t i = readings.size(); i-- > used + 1;)
            if (readings[i].at == zone(session) && readings[i].quantity == Measured::ohms)
                return static_cast<std::uint32_t>(i);
        return std::nullopt;
    }

    void draw_unusable(Context& context, std::uint32_t reading) const {
        const Session& session = *context.session;
        Statement why = statement_of(session.job(), session.derived(), reading);
        if (session.derived().readings[reading].isolation == Isolation::not_stated)
            why = {Message("{reading} is not used: not noted that both conductors were disconnected. Read it again.",
                           {{"reading", reading_figure(session.job().all<Reading>()[reading])}}),
                   Message()};
        statement_box(context, "find_tap.with_said", Tone::warning, why);
    }

    void draw_without(Context& context, const Session& session) {
        section_title(context, Message("2. Without {speaker}", {{"speaker", name(session)}}));
        if (!without_)
            return quiet_paragraph(context, Message("Not read yet: {speaker} alone disconnected, the rest as before.",
                                                    {{"speaker", name(session)}}));
        label_value(context, "find_tap.without.figure", Message("Read now, not saved"), reading_figure(*without_));
        if (button(context, "find_tap.without_again", Message("Read without it again"), {.kind = ButtonKind::quiet}))
            read_without(context);
    }

    void draw_result(Context& context) {
        section_title(context, Message("What it draws"));
        const bool is_fault = pair_->fault != PairFault::none;
        if (!is_fault)
            big_number(context, "find_tap.watts", pair_->between.watts, Message(),
                       Message("± {error}, twice that decides", {{"error", pair_->between.error}}));
        statement_box(context, "find_tap.said",
                      is_fault     ? Tone::warning
                      : proposed() ? Tone::plain
                                   : Tone::note,
                      *said_);
    }

    // What is still off the line: the loudspeaker first.
    void draw_reconnect(Context& context, const Session& session) {
        if (without_)
            tone_box(context, "find_tap.back", Tone::stop,
                     Message("Connect {speaker} again before its line is reconnected.", {{"speaker", name(session)}}));
        reconnect_.draw(context, "find_tap.reconnect", *zone(session));
    }

    static Message when(const Reading& reading) {
        return reading.time ? Message(Moment{reading.time->text}) : Message("Day not recorded");
    }

    // As found, and as it is: nobody has re-tapped it meanwhile.
    void record(Context& context, Watts tap) {
        shared_.ask(context,
                    {adding(Kind::reading, {{"at", id_.text()}, {"quantity", "tap_w"}, {"value", tap.value()}}),
                     setting(Kind::point, id_, {{"tap_w", tap.value()}})},
                    Message("{point} found on {tap}", {{"point", name(*context.session)}, {"tap", tap}}));
    }

    ReadingEntry entry_;
    ReconnectBoxes reconnect_;
    std::optional<Reading> without_;  // not in the job
    bool uses_older_ = false;         // a reading with it of another day
    Seen<double, bool> seen_;
    std::optional<ReadingPair> pair_;
    std::optional<Statement> said_;
};

}  // namespace

std::unique_ptr<Screen> find_tap_screen(Shared& shared, const Id& speaker) {
    return std::make_unique<FindTapScreen>(shared, speaker);
}

}  // namespace tapwright::ui
