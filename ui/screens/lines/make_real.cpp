#include "ui/screens/lines/make_real.h"

#include "ui/screens/common/cautions.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

// The points that somebody opens or feeds anew for it; new ones are in no job yet, their rooms are.
std::vector<Id> touched(const Job& job, const ChangeList& changes) {
    std::vector<Id> places;
    for (const tapwright::Change& change : changes) {
        if (change.kind == Kind::point && job.has(Kind::point, change.id)) places.push_back(change.id);
        for (const auto& [name, value] : change.fields)
            if (name == "room" && value.text()) places.emplace_back(*value.text());
    }
    return places;
}

Message in_one_step() {
    return Message("Every change of this trial is recorded in one step. One undo takes it back.");
}

}  // namespace

void MakeTrialReal::begin(const Id& trial) {
    trial_ = trial;
    open_ = true;
}

ChangeList MakeTrialReal::changes(const Job& job) const {
    const Trial* trial = job.find<Trial>(trial_);
    return trial && trial->changes ? *trial->changes : ChangeList();
}

// Taps that somebody has still to climb to are no record of what is set.
bool MakeTrialReal::draw(Context& context) {
    if (!open_) return false;
    const Job& job = context.session->job();
    const ChangeList all = changes(job);
    const std::size_t taps = taps_to_set(job, all);
    const Statement cautions =
        in_one(cautions_for(CautionMoment::opening, job, context.session->derived(), touched(job, all)));
    return taps == 0 ? draw_without_taps(context, cautions) : draw_with_taps(context, taps, cautions);
}

bool MakeTrialReal::draw_without_taps(Context& context, const Statement& cautions) {
    return ask(context, "trial.real_ask", Message("Make it real?"), sentences({in_one_step(), cautions.text}),
               Message("Make it real"), Message("Not yet"), open_) == Answer::yes &&
           record(context, MadeReal::as_left);
}

bool MakeTrialReal::draw_with_taps(Context& context, std::size_t taps, const Statement& cautions) {
    Sheet sheet(context, "trial.real_ask", Message("Are the taps set?"), open_);
    if (!sheet) return false;
    paragraph(context,
              sentences({plural("{count} fitted loudspeaker gets another tap.",
                                "{count} fitted loudspeakers get another tap.", static_cast<std::int64_t>(taps)),
                         in_one_step()}));
    statement_box(context, "trial.real_ask.caution", Tone::warning, cautions);
    if (button(context, "trial.real_ask.yes", Message("They are set: record them as left"),
               {.kind = ButtonKind::primary, .shape = Shape::check}))
        return record(context, MadeReal::as_left);
    if (button(context, "trial.real_ask.plan", Message("Not yet set: record them as planned"),
               {.shape = Shape::survey}))
        return record(context, MadeReal::as_planned);
    if (button(context, "trial.real_ask.no", Message("Cancel"))) open_ = false;
    return false;
}

bool MakeTrialReal::record(Context& context, MadeReal how) {
    open_ = false;
    const Session& session = *context.session;
    const Result<ChangeList> wished = make_real(session.job(), trial_, how);
    if (!wished) {
        context.requests.say(Tone::stop, wished.refusal().message);
        return false;
    }
    const ChangeList all = with_free_ids(session.job(), *wished, [&](const Id& id) { return session.was_used(id); });
    const Message trial = entered(name_of(session.job(), trial_));
    shared_.ask(context, all,
                how == MadeReal::as_left
                    ? Message("{trial} made real. Read the line before switching the amplifier on.", {{"trial", trial}})
                    : Message("{trial} is now the plan. Set the taps, then read the line.", {{"trial", trial}}));
    return true;
}

}  // namespace tapwright::ui
