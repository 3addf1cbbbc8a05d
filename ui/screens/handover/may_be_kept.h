// What was worked out and is not in the record yet: trials, and surveys of rooms without a loudspeaker. Each is kept
// from where it is listed.
#pragma once

#include <optional>
#include <vector>

#include "core/plan/survey.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/shared.h"
#include "ui/screens/lines/make_real.h"

namespace tapwright::ui {

// Belongs to a screen.
class MayBeKept {
public:
    explicit MayBeKept(Shared& shared) : shared_(shared), real_(shared) {}
    // The rows with their keys below a title, and the question before a trial is made real; nothing where there is
    // nothing to keep. Marks handover.trial.ID and handover.trial.ID.keep, handover.survey.ID and
    // handover.survey.ID.keep, trial.real_ask.*.
    void draw(Context& context);

private:
    void look(Context& context);
    void draw_trial(Context& context, const Trial& trial);
    void draw_survey(Context& context, const Survey& survey);
    Id zone_chosen(const Id& room) const;

    Shared& shared_;
    MakeTrialReal real_;
    Seen<int, Id> seen_;
    std::vector<Id> rooms_;  // still to be surveyed, the next one last
    std::vector<Survey> surveys_;
};

}  // namespace tapwright::ui
