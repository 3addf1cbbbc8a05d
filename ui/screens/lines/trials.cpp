#include "ui/screens/lines/trials.h"

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/job/field_codec.h"
#include "core/job/field_text.h"
#include "core/plan/trial.h"
#include "core/units/show.h"
#include "core/words/findings_text.h"
#include "core/words/words.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_rows = 24;

class TrialScreen : public Screen {
public:
    TrialScreen(Shared& shared, Id trial) : shared_(shared), id_(std::move(trial)) {}
    Message title(Context& context) override {
        return context.session->job().find<Trial>(id_) ? name_of(context.session->job(), id_) : "Trial";
    }
    bool has_foot(Context& context) override { return context.session->job().find<Trial>(id_) != nullptr; }
    void draw_foot(Context& context) override {
        if (button(context, "trial.add", changes(context).empty() ? "Try something" : "Try more",
                   {.kind = ButtonKind::primary, .width = share_of_width(context, 2), .shape = Shape::plus}))
            more_open_ = true;
        beside(context);
        const bool can = after_ != nullptr && !changes(context).empty();
        if (button(context, "trial.real", "Make it real", {.enabled = can, .shape = Shape::check})) real_open_ = true;
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (!job.find<Trial>(id_))
            return empty_state(context, Shape::erase, "No longer there",
                               "This trial was made real or dropped. Undo brings it back.");
        look(*context.session);
        if (!changes(context).empty()) shared_.tried = after_;
        draw_changes(context, job);
        if (!problem_.empty()) tone_box(context, "trial.problem", Tone::stop, problem_);
        if (after_ && !changes(context).empty()) draw_comparison(context);
        if (button(context, "trial.drop", "Drop it", {.kind = ButtonKind::danger, .shape = Shape::cross}))
            drop_open_ = true;
        draw_sheets(context);
    }

private:
    ChangeList changes(Context& context) const {
        const Trial* trial = context.session->job().find<Trial>(id_);
        return trial && trial->changes ? *trial->changes : ChangeList();
    }

    void look(const Session& session) {
        if (session_ == &session && batches_ == session.batch_count()) return;
        session_ = &session;
        batches_ = session.batch_count();
        problem_.clear();
        after_.reset();
        const Trial& trial = *session.job().find<Trial>(id_);
        const ChangeList all = trial_changes(session.job(), trial.changes.value_or(ChangeList()));
        Result<Proposal> proposal =
            session.propose(Command{.changes = all, .fill_in = true, .place = {}}, shared_.author(), shared_.stamp());
        if (!proposal) {
            problem_ = in_english(proposal.refusal());
            return;
        }
        after_ = std::make_shared<const Proposal>(std::move(*proposal));
        comparison_ = compare(session.job(), session.derived(), after_->job, after_->derived);
        take_zone_in_hand();
    }

    // The strip shows a zone that the trial changes.
    void take_zone_in_hand() {
        const auto differs = [](const LoadPair& pair) {
            return pair.kind == Kind::zone && pair.before && pair.after && pair.before->load != pair.after->load;
        };
        const Zone* in_hand = shared_.zone_in_hand(session_->job());
        const LoadPair* first = nullptr;
        for (const LoadPair& pair : comparison_.loads) {
            if (!differs(pair)) continue;
            if (in_hand && pair.id == in_hand->id) return;
            if (!first) first = &pair;
        }
        if (first && session_->job().has(Kind::zone, first->id)) shared_.zone = first->id;
    }

    void draw_changes(Context& context, const Job& job) {
        const ChangeList all = changes(context);
        if (all.empty())
            quiet_paragraph(context,
                            "Nothing is tried yet. Touch the button below: loudspeakers, another tap, another cable.");
        for (std::size_t i = 0; i < all.size(); ++i) {
            Row row;
            row.title = change_words(after_ ? after_->job : job, all[i], &job);
            row.value = "Take out";
            if (!list_row(context, "trial.change." + std::to_string(i), row).tapped) continue;
            ChangeList rest = all;
            rest.erase(rest.begin() + static_cast<long>(i));
            shared_.ask(context, {setting(Kind::trial, id_, {{"changes", value_of_changes(rest)}})},
                        "Taken out of the trial");
        }
    }

    void draw_comparison(Context& context) {
        section_title(context, "Loads, and what would be left");
        for (const LoadPair& pair : comparison_.loads) draw_load(context, pair);
        draw_attenuators(context);
        draw_speakers(context);
        draw_findings(context);
    }

    void draw_load(Context& context, const LoadPair& pair) {
        if (!pair.before || !pair.after) return;
        if (pair.before->load == pair.after->load && pair.before->limit == pair.after->limit) return;
        const HeadroomWords was = headroom_words(*pair.before, Watts(0)), is = headroom_words(*pair.after, Watts(0));
        Row row;
        row.title = name_of(after_->job, pair.id);
        row.detail =
            load_words(*pair.before) + ", " + was.figure + " " + was.word + "; then " + load_words(*pair.after);
        row.value = is.figure;
        row.tone = is.tone;
        row.word = is.word;
        list_row(context, "trial.load." + pair.id.text(), row);
        if (pair.ohms_after)
            label_value(
                context, "trial.ohms." + pair.id.text(), "To be read at " + name_of(after_->job, pair.id),
                (pair.ohms_before ? show(*pair.ohms_before) + ", then " : std::string()) + show(*pair.ohms_after));
    }

    void draw_attenuators(Context& context) {
        for (const AttenuatorPair& pair : comparison_.attenuators)
            if (pair.behind_before != pair.behind_after || pair.rating_before != pair.rating_after)
                label_value(context, "trial.attenuator." + pair.id.text(),
                            "Behind " + name_of(after_->job, pair.id) + ", rated " + show(pair.rating_after),
                            show(pair.behind_before) + " then " + show(pair.behind_after));
    }

    void draw_speakers(Context& context) {
        std::size_t shown = 0;
        std::size_t hardly = 0;
        constexpr Decibels audible{0.1};
        for (const SpeakerPair& pair : comparison_.speakers) {
            if (pair.drawn_before == pair.drawn_after) {
                if (!pair.change || pair.change == Decibels(0)) continue;
                if (*pair.change<audible&& * pair.change> - audible) {
                    ++hardly;
                    continue;
                }
            }
            if (shown++ == 0) section_title(context, "Loudspeakers");
            if (shown > most_rows) continue;
            const std::string name = name_of(pair.drawn_after ? after_->job : session_->job(), pair.id);
            const std::string watts = pair.drawn_before == pair.drawn_after ? show(pair.drawn_after) + " as before"
                                      : pair.drawn_before ? show(pair.drawn_before) + " then " + show(pair.drawn_after)
                                                          : "new, " + show(pair.drawn_after);
            label_value(context, "trial.speaker." + pair.id.text(), name,
                        watts + (pair.change ? ", " + show(*pair.change) : std::string()));
        }
        if (shown > most_rows) quiet_paragraph(context, "and " + std::to_string(shown - most_rows) + " more");
        if (hardly > 0)
            quiet_paragraph(context, "The level of " + counted(hardly, "other") + " moves by less than 0.1 dB.");
    }

    void draw_findings(Context& context) {
        if (comparison_.findings.empty()) return;
        section_title(context, "Findings");
        std::size_t number = 0;
        for (const FindingPair& pair : comparison_.findings) {
            if (number == most_rows) break;
            const bool appears = pair.fate == Fate::appears;
            const std::string text = appears ? sentence(after_->job, after_->derived, pair.finding)
                                             : sentence(session_->job(), session_->derived(), pair.finding);
            tone_box(context, "trial.finding." + std::to_string(number++),
                     appears ? tone_of(pair.finding.severity) : Tone::good,
                     (appears ? "Would appear: " : "Would go: ") + text);
        }
    }

    void draw_sheets(Context& context) {
        if (Sheet sheet(context, "trial.more", "Try more", more_open_); sheet) draw_more(context);
        draw_real_question(context);
        if (ask(context, "trial.drop_ask", "Drop it?", "The real system stays as it is. Undo brings the trial back.",
                "Drop it", "Keep it", drop_open_) == Answer::yes) {
            shared_.ask(context, removal(context.session->job(), Kind::trial, id_),
                        Message("{trial} dropped", {{"trial", title(context)}}));
            context.requests.back();
        }
    }

    // Taps that somebody has still to climb to are no record of what is set.
    void draw_real_question(Context& context) {
        if (!real_open_) return;
        const std::size_t taps = taps_to_set(context.session->job(), changes(context));
        if (taps == 0) {
            if (ask(context, "trial.real_ask", "Make it real?",
                    "Every change of this trial is recorded now, in one step that one undo takes back.", "Make it real",
                    "Not yet", real_open_) == Answer::yes)
                record(context, MadeReal::as_left);
            return;
        }
        Sheet sheet(context, "trial.real_ask", "Are the taps set?", real_open_);
        if (!sheet) return;
        paragraph(context,
                  counted(taps, "loudspeaker") + (taps == 1 ? " that hangs there gets" : " that hang there get") +
                      " another tap. Every change of this trial is recorded in one step that one undo takes back.");
        if (button(context, "trial.real_ask.yes", "They are set: record them as left",
                   {.kind = ButtonKind::primary, .shape = Shape::check}))
            record(context, MadeReal::as_left);
        if (button(context, "trial.real_ask.plan", "Still to be set: record them as planned", {.shape = Shape::survey}))
            record(context, MadeReal::as_planned);
        if (button(context, "trial.real_ask.no", "Not yet")) real_open_ = false;
    }

    void record(Context& context, MadeReal how) {
        real_open_ = false;
        const Result<ChangeList> all = make_real(context.session->job(), id_, how);
        if (!all) return context.requests.say(Tone::stop, in_english(all.refusal()));
        shared_.ask(
            context, *all,
            how == MadeReal::as_left
                ? Message("{trial} made real. Read the line before power goes on.", {{"trial", title(context)}})
                : Message("{trial} made the plan. Set the taps, then read the line.", {{"trial", title(context)}}));
        context.requests.back();
    }

    void draw_more(Context& context) {
        if (button(context, "trial.more.speakers", "Loudspeakers, with room made for them",
                   {.shape = Shape::loudspeaker})) {
            more_open_ = false;
            context.requests.open(trial_adding_screen(shared_, id_));
        }
        if (button(context, "trial.more.field", "Another tap, feed, cable, attenuator or limit",
                   {.shape = Shape::attenuator}))
            pick(context, false);
        if (button(context, "trial.more.remove", "A point taken away", {.shape = Shape::cross})) pick(context, true);
    }

    void pick(Context& context, bool removing) {
        more_open_ = false;
        PickOptions options;
        options.title = removing ? "What goes?" : "What is changed?";
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
                         name_of(job, picked) + " taken away in the trial");
        }));
    }

    Shared& shared_;
    Id id_;
    std::shared_ptr<const Proposal> after_;
    Comparison comparison_;
    std::string problem_;
    bool more_open_ = false, real_open_ = false, drop_open_ = false;
    const Session* session_ = nullptr;
    std::size_t batches_ = 0;
};

}  // namespace

std::unique_ptr<Screen> trial_screen(Shared& shared, const Id& trial) {
    return std::make_unique<TrialScreen>(shared, trial);
}

}  // namespace tapwright::ui
