#include "ui/screens/trials.h"

#include "core/base/text.h"
#include "core/calc/findings.h"
#include "core/calc/trial.h"
#include "core/job/field_codec.h"
#include "core/job/field_text.h"
#include "core/units/text.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_rows = 24;

Value value_of(const ChangeList& changes) {
    return codec::Codec<ChangeList>::write(changes);
}

class TrialsScreen : public Screen {
public:
    explicit TrialsScreen(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Trials"; }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (!button(context, "trials.new", "New trial", {.kind = ButtonKind::primary, .shape = Shape::plus})) return;
        const std::string name = "Trial " + std::to_string(context.session->job().all<Trial>().size() + 1);
        shared_.ask(context, {adding(Kind::trial, {{"name", name}, {"changes", List{}}})}, name + " begun",
                    [this, &context](const std::vector<Id>& ids) {
                        context.requests.open(trial_screen(shared_, ids.front()));
                    });
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Trial>().empty())
            empty_state(context, Shape::lines, "No trials yet",
                        "Try what adding, moving or re-tapping would do, beside the real system. Nothing is changed "
                        "before you make it real.");
        for (const Trial& trial : job.all<Trial>()) {
            Row row;
            row.title = name_of(job, trial.id);
            row.detail = counted(trial.changes ? trial.changes->size() : 0, "change");
            row.chevron = true;
            if (list_row(context, "trials." + trial.id.text(), row).tapped)
                context.requests.open(trial_screen(shared_, trial.id));
        }
    }

private:
    Shared& shared_;
};

class TrialScreen : public Screen {
public:
    TrialScreen(Shared& shared, Id trial) : shared_(shared), id_(std::move(trial)) {}
    std::string title(Context& context) override {
        return context.session->job().find<Trial>(id_) ? name_of(context.session->job(), id_) : "Trial";
    }
    bool has_foot(Context& context) override { return context.session->job().find<Trial>(id_) != nullptr; }
    void draw_foot(Context& context) override {
        if (button(context, "trial.add", "Try more",
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
        shared_.tried = after_;
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
            problem_ = proposal.refusal().text;
            return;
        }
        after_ = std::make_shared<const Proposal>(std::move(*proposal));
        comparison_ = compare(session.job(), session.derived(), after_->job, after_->derived);
    }

    void draw_changes(Context& context, const Job& job) {
        const ChangeList all = changes(context);
        if (all.empty())
            quiet_paragraph(context, "Nothing is tried yet. Touch Try more: loudspeakers, another tap, another cable.");
        for (std::size_t i = 0; i < all.size(); ++i) {
            Row row;
            row.title = change_words(after_ ? after_->job : job, all[i]);
            row.value = "Take out";
            if (!list_row(context, "trial.change." + std::to_string(i), row).tapped) continue;
            ChangeList rest = all;
            rest.erase(rest.begin() + static_cast<long>(i));
            shared_.ask(context, {setting(Kind::trial, id_, {{"changes", value_of(rest)}})}, "Taken out of the trial");
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
        if (pair.ohms_after) row.detail += ". Expected then " + show(*pair.ohms_after);
        row.value = is.figure;
        row.tone = is.tone;
        row.word = is.word;
        list_row(context, "trial.load." + pair.id.text(), row);
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
        for (const SpeakerPair& pair : comparison_.speakers) {
            if (pair.drawn_before == pair.drawn_after && (!pair.change || pair.change == Decibels(0))) continue;
            if (shown++ == 0) section_title(context, "Loudspeakers");
            if (shown > most_rows) continue;
            const std::string name = name_of(pair.drawn_after ? after_->job : session_->job(), pair.id);
            const std::string watts = pair.drawn_before ? show(pair.drawn_before) + " then " + show(pair.drawn_after)
                                                        : "new, " + show(pair.drawn_after);
            label_value(context, "trial.speaker." + pair.id.text(), name,
                        watts + (pair.change ? ", " + show(*pair.change) : std::string()));
        }
        if (shown > most_rows) quiet_paragraph(context, "and " + std::to_string(shown - most_rows) + " more");
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
        if (ask(context, "trial.real_ask", "Make it real?",
                "Every change of this trial is recorded now, in one step that one undo takes back.", "Make it real",
                "Not yet", real_open_) == Answer::yes) {
            const Result<ChangeList> all = make_real(context.session->job(), id_);
            if (!all) return context.requests.say(Tone::stop, all.refusal().text);
            shared_.ask(context, *all, title(context) + " made real");
            context.requests.back();
        }
        if (ask(context, "trial.drop_ask", "Drop it?", "The real system stays as it is. Undo brings the trial back.",
                "Drop it", "Keep it", drop_open_) == Answer::yes) {
            shared_.ask(context, removal(context.session->job(), Kind::trial, id_), title(context) + " dropped");
            context.requests.back();
        }
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

void add_to_trial(Context& context, Shared& shared, const Id& trial, const ChangeList& more, const std::string& what) {
    const Trial* record = context.session->job().find<Trial>(trial);
    if (!record) return;
    ChangeList all = record->changes.value_or(ChangeList());
    all.insert(all.end(), more.begin(), more.end());
    shared.ask(context, {setting(Kind::trial, trial, {{"changes", value_of(all)}})}, what);
}

std::string change_words(const Job& job, const tapwright::Change& change) {
    const std::string name = job.kind_of(change.id) ? name_of(job, change.id) : std::string();
    if (change.op == ChangeOp::remove) return (name.empty() ? change.id.text() : name) + " goes";
    std::string words;
    for (const auto& [key, value] : change.fields) {
        const FieldInfo* field = find_field(change.kind, key);
        const bool told = key == "label" || key == "name" || key == "kind" || key == "room";
        if (!field || (told && change.op == ChangeOp::add)) continue;
        words +=
            (words.empty() ? "" : ", ") + field_title(*field) + " " + text_of(*field, value, length_units(job), &job);
    }
    if (change.op == ChangeOp::set) return name + ": " + words;
    std::string label = name;
    for (const auto& [key, value] : change.fields)
        if ((key == "label" || key == "name") && value.text()) label = *value.text();
    return "New " + label + (words.empty() ? "" : ": " + words);
}

std::unique_ptr<Screen> trials_screen(Shared& shared) {
    return std::make_unique<TrialsScreen>(shared);
}

std::unique_ptr<Screen> trial_screen(Shared& shared, const Id& trial) {
    return std::make_unique<TrialScreen>(shared, trial);
}

}  // namespace tapwright::ui
