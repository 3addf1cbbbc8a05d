// Trials on screen: proposed changes beside the real system, room made for what is to be added, made real or dropped.
#pragma once

#include <memory>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// All trials of the job, and a new one.
std::unique_ptr<Screen> trials_screen(Shared& shared);
// One trial: what it would change and what would come of it.
std::unique_ptr<Screen> trial_screen(Shared& shared, const Id& trial);
// Loudspeakers to be added to a zone, as they are or with taps set so that there is room.
std::unique_ptr<Screen> trial_adding_screen(Shared& shared, const Id& trial);
// Any field of any record, tried.
std::unique_ptr<Screen> trial_field_screen(Shared& shared, const Id& trial, Kind kind, const Id& record);

// Changes as the field of a trial takes them.
Value value_of_changes(const ChangeList& changes);
// Keeps the trial with these changes behind those it has. `real`: what is recorded in the same batch, for it to refer
// to.
void add_to_trial(Context& context, Shared& shared, const Id& trial, const ChangeList& more, const Message& what,
                  ChangeList real = {});
// A change in words: "C-104: Tap 2.5 W", "Added: C-131"; with the job as it is, "C-104: Tap 2.5 W (now 5 W)".
Message change_words(const Job& job, const tapwright::Change& change, const Job* before = nullptr);

}  // namespace tapwright::ui
