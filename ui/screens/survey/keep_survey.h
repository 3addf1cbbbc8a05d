// A room's survey as the person chose it, and its answer kept as planned loudspeakers: from the survey's own page and
// from Handover.
#pragma once

#include <functional>

#include "core/plan/survey.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// The type it is worked out for: as chosen, else the one used last, else the first; empty where there is none.
Id type_for_survey(const Shared& shared, const Job& job, const Id& room);

// The zone it would be planned on: as chosen, else the first that could carry it; empty where none can.
Id zone_for_survey(const Survey& survey, const Id& chosen);

// Whether the answer can be kept: a tap reaches the wanted level, and a zone can carry it.
bool may_be_kept(const Survey& survey, const Id& chosen_zone);

// Keeps it in one batch. `then` runs once it is on disk. Requires: may_be_kept().
void keep_survey(Context& context, Shared& shared, const Survey& survey, const Id& chosen_zone,
                 std::function<void(const std::vector<Id>&)> then = {});

}  // namespace tapwright::ui
