#include "ui/screens/lines/trials.h"

#include <utility>

#include "ui/screens/common/screen.h"

#include "core/findings/findings.h"
#include "core/job/field_codec.h"
#include "core/job/field_text.h"
#include "core/plan/trial.h"
#include "core/units/unit.h"
#include "core/words/findings_text.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/known.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/make_real.h"

namespace tapwright::ui {
namespace {

constexpr std::int64_t most_rows = 24;

class TrialScreen : public ScreenOfRecord {
public:
    TrialScreen(Shared& shared, Id trial) : ScreenOfRecord(shared, std::move(trial), Message("Trial")), real_(shared) {}
    bool shows_load(Context&) override { return true; }
    PageZone page_zone(Context&) override { return {zone_, zone_ != Id()}; }
    void draw_foot(Context& context) override {
        if (button(context, "trial.add", changes(context).empty() ? Message("Try something") : Message("Try more"),
                   {.kind = ButtonKind::primary, .width = share_of_width(context, 2), .shape = Shape::plus}))
            more_open_ = true;
        beside(context);
        const bool can = after_ != nullptr && !changes(context).empty();
        if (button(context, "trial.real", Message("Make it real"), {.enabled = can, .shape = Shape::check}))
            real_.begin(id_);
    }

private:
    Message title_of_record(Context&, const Job& job) override { return entered(name_of(job, id_)); }
    bool has_record_foot(Context&, const Job&) override { return true; }
    void draw_record(Context& context, const Job& job) override {
        look(context);
        if (!changes(context).empty()) shared_.tried = after_;
        draw_changes(context, job);
        if (!after_) tone_box(context, "trial.problem", Tone::stop, problem_);
        if (after_ && is_compared_ && !changes(context).empty()) draw_comparison(context);
        if (button(context, "trial.drop", Message("Drop this trial"),
                   {.kind = ButtonKind::danger, .shape = Shape::cross}))
            drop_open_ = true;
        draw_sheets(context);
    }

    ChangeList changes(Context& context) const {
        const Trial* trial = context.session->job().find<Trial>(id_);
        return trial && trial->changes ? *trial->changes : ChangeList();
    }

    // Worked out in one frame and compared in the next: each is a walk through the whole job.
    void look(Context& context) {
        const Session& session = *context.session;
        session_ = &session;
        if (!seen_.still(session)) return work_out(context, session);
        if (!after_ || std::exchange(is_compared_, true)) return;
        comparison_ = compare(session.job(), session.derived(), after_->job, after_->derived);
        find_zone();
    }

    void work_out(Context& context, const Session& session) {
        after_.reset();
        is_compared_ = false;
        const Trial& trial = *session.job().find<Trial>(id_);
        const ChangeList all =
            trial_changes(session.job(), with_free_ids(session.job(), trial.changes.value_or(ChangeList()),
                                                       [&](const Id& id) { return session.was_used(id); }));
        Result<Proposal> proposal =
            session.propose(Command{.changes = all, .fill_in = true, .place = {}}, shared_.author(), shared_.stamp());
        if (!proposal) {
            problem_ = proposal.refusal().message;
            return;
        }
        after_ = std::make_shared<const Proposal>(std::move(*proposal));
        context.requests.another_frame();
    }

    // The strip shows a zone that the trial changes.
    // The strip shows a zone that the trial changes: the one that was chosen where it is one of them, else the first.
    void find_zone() {
        const auto differs = [](const LoadPair& pair) {
            return pair.kind == Kind::zone && pair.before && pair.after && pair.before->load != pair.after->load;
        };
        zone_ = Id();
        for (const LoadPair& pair : comparison_.loads) {
            if (!differs(pair) || !session_->job().has(Kind::zone, pair.id)) continue;
            if (zone_ == Id() || pair.id == shared_.zone) zone_ = pair.id;
        }
    }

    void draw_changes(Context& context, const Job& job) {
        const ChangeList all = changes(context);
        if (all.empty())
            quiet_paragraph(context, Message("Nothing tried yet. Touch Try something: more loudspeakers, another tap, "
                                             "another cable."));
        for (std::size_t i = 0; i < all.size(); ++i) {
            Row row;
            row.title = change_words(after_ ? after_->job : job, all[i], &job);
            row.value = Message("Take out");
            if (!list_row(context, "trial.change." + std::to_string(i), row).tapped) continue;
            ChangeList rest = all;
            rest.erase(rest.begin() + static_cast<long>(i));
            shared_.ask(context, {setting(Kind::trial, id_, {{"changes", value_of_changes(rest)}})},
                        Message("Change taken out of the trial"));
        }
    }

    void draw_comparison(Context& context) {
        section_title(context, Message("Loads and headroom"));
        for (const LoadPair& pair : comparison_.loads) draw_load(context, pair);
        draw_attenuators(context);
        draw_speakers(context);
        draw_findings(context);
    }

    void draw_load(Context& context, const LoadPair& pair) {
        if (!pair.before || !pair.after) return;
        if (pair.before->load == pair.after->load && pair.before->limit == pair.after->limit) return;
        const HeadroomWords was = headroom_words(*pair.before), is = headroom_words(*pair.after);
        Row row;
        row.title = entered(name_of(after_->job, pair.id));
        row.detail = sentences({Message("Now {load}, {headroom}.", {{"load", load_and_read(*pair.before)},
                                                                    {"headroom", in_a_row({was.figure, was.word})}}),
                                Message("Then {load}.", {{"load", load_and_read(*pair.after)}})});
        row.value = is.figure;
        row.tone = is.tone;
        row.word = is.word;
        list_row(context, "trial.load." + pair.id.text(), row);
        if (!pair.read_after) return;
        // A plan is not on the line yet, and a trial is mostly about what is planned.
        const Ohms then = pair.read_all_after.value_or(*pair.read_after);
        label_value(context, "trial.ohms." + pair.id.text(),
                    Message("To be read at {place}", {{"place", entered(name_of(after_->job, pair.id))}}),
                    pair.read_before ? now_then(*pair.read_before, then) : Message(then));
    }

    static Message load_and_read(const Margin& margin) {
        if (!(margin.unrecorded > Watts(0))) return load_words(margin);
        return Message("{load} and {unrecorded} unrecorded",
                       {{"load", load_words(margin)}, {"unrecorded", margin.unrecorded}});
    }

    static Message now_then(const Message& now, const Message& then) {
        return Message("now {before}, then {after}", {{"before", now}, {"after", then}});
    }

    void draw_attenuators(Context& context) {
        for (const AttenuatorPair& pair : comparison_.attenuators)
            if (pair.behind_before != pair.behind_after || pair.rating_before != pair.rating_after)
                label_value(context, "trial.attenuator." + pair.id.text(),
                            Message("Load behind {attenuator} (rated {rating})",
                                    {{"attenuator", entered(name_of(after_->job, pair.id))},
                                     {"rating", known(pair.rating_after)}}),
                            now_then(known(pair.behind_before), known(pair.behind_after)));
    }

    void draw_speakers(Context& context) {
        std::int64_t shown = 0, hardly = 0;
        constexpr Decibels audible{0.1};
        for (const SpeakerPair& pair : comparison_.speakers) {
            if (pair.drawn_before == pair.drawn_after) {
                if (!pair.change || pair.change == Decibels(0)) continue;
                if (*pair.change<audible&& * pair.change> - audible) {
                    ++hardly;
                    continue;
                }
            }
            if (shown++ == 0) section_title(context, Message("Loudspeakers"));
            if (shown > most_rows) continue;
            label_value(context, "trial.speaker." + pair.id.text(),
                        entered(name_of(pair.drawn_after ? after_->job : session_->job(), pair.id)),
                        read_out({watts_of(pair), pair.change ? Message(*pair.change) : Message()}));
        }
        if (shown > most_rows)
            quiet_paragraph(context, plural("and {count} more", "and {count} more", shown - most_rows));
        if (hardly > 0)
            quiet_paragraph(context, plural("The level of {count} other changes by less than 0.1 dB.",
                                            "The levels of {count} others change by less than 0.1 dB.", hardly));
    }

    static Message watts_of(const SpeakerPair& pair) {
        if (pair.drawn_before == pair.drawn_after)
            return Message("{watts} as before", {{"watts", known(pair.drawn_after)}});
        if (!pair.drawn_before) return Message("new, {watts}", {{"watts", known(pair.drawn_after)}});
        if (!pair.drawn_after) return Message("now {watts}, then removed", {{"watts", *pair.drawn_before}});
        return now_then(*pair.drawn_before, *pair.drawn_after);
    }

    void draw_findings(Context& context) {
        if (comparison_.findings.empty()) return;
        section_title(context, Message("Findings"));
        std::int64_t number = 0;
        for (const FindingPair& pair : comparison_.findings) {
            if (number == most_rows) break;
            const bool appears = pair.fate == Fate::appears;
            const Statement said = appears ? statement_of(after_->job, after_->derived, pair.finding)
                                           : statement_of(session_->job(), session_->derived(), pair.finding);
            const Message text = appears ? Message("New: {finding}", {{"finding", said.text}})
                                         : Message("Gone: {finding}", {{"finding", said.text}});
            statement_box(context, "trial.finding." + std::to_string(number++),
                          appears ? tone_of(pair.finding.severity) : Tone::good, {text, said.why});
        }
    }

    void draw_sheets(Context& context) {
        if (Sheet sheet(context, "trial.more", Message("What to try"), more_open_); sheet) draw_more(context);
        if (real_.draw(context)) context.requests.back();
        if (ask(context, "trial.drop_ask", Message("Drop this trial?"),
                Message("The real system stays as it is. Undo restores the trial."), Message("Drop it"),
                Message("Cancel"), drop_open_) == Answer::yes) {
            shared_.ask(context, removal(context.session->job(), Kind::trial, id_),
                        Message("{trial} dropped", {{"trial", title(context)}}));
            context.requests.back();
        }
    }

    void draw_more(Context& context) {
        if (button(context, "trial.more.speakers", Message("Add loudspeakers"), {.shape = Shape::loudspeaker})) {
            more_open_ = false;
            context.requests.open(trial_adding_screen(shared_, id_));
        }
        if (button(context, "trial.more.field", Message("Change a tap, feed, cable, attenuator or limit"),
                   {.shape = Shape::attenuator}))
            pick(context, false);
        if (button(context, "trial.more.remove", Message("Remove a point"), {.shape = Shape::cross}))
            pick(context, true);
    }

    void pick(Context& context, bool removing) {
        more_open_ = false;
        PickOptions options;
        options.title = removing ? Message("Remove which point?") : Message("Change what?");
        options.kinds =
            removing ? KindSet{Kind::point} : KindSet{Kind::point,     Kind::zone,         Kind::channel,
                                                      Kind::amplifier, Kind::speaker_type, Kind::attenuator_type,
                                                      Kind::cable_type};
        options.may_be_none = false;
        context.requests.open(pick_screen(shared_, options, [this, removing](Context& now, const Id& picked) {
            const Job& job = now.session->job();
            const std::optional<Kind> kind = job.kind_of(picked);
            if (!kind) return;
            if (!removing) return now.requests.open(trial_field_screen(shared_, id_, *kind, picked));
            add_to_trial(now, shared_, id_, {{ChangeOp::remove, Kind::point, picked, {}}},
                         Message("{point} removed in the trial", {{"point", entered(name_of(job, picked))}}));
        }));
    }

    std::shared_ptr<const Proposal> after_;
    Comparison comparison_;
    bool is_compared_ = false;
    Id zone_;  // whose strip is shown; empty: of the zone in hand
    Message problem_;
    MakeTrialReal real_;
    bool more_open_ = false, drop_open_ = false;
    const Session* session_ = nullptr;  // of the frame
    Seen<> seen_;
};

}  // namespace

std::unique_ptr<Screen> trial_screen(Shared& shared, const Id& trial) {
    return std::make_unique<TrialScreen>(shared, trial);
}

}  // namespace tapwright::ui
