// A room once more, with the points in it.
#pragma once

#include <string>

#include "core/session/stamp.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// The changes that make the copy, the room first: its size and use under the next free name, its points with the next
// free labels, fed from each other as there. What is fed from outside the room there is not traced in the copy, nor has
// its run a length: nobody has said where the copy is connected. What was seen and tested on site
// (how a loudspeaker sounded, polarity, positions, serial numbers, notes, photos, snags, readings) is not copied.
// Requires: the room is there.
ChangeList duplicate_of(const Job& job, const Id& room, IdMaker& ids);

// "Dining room 2" after "Dining room", "Room 4" after "Room 3": the next that no room has.
std::string name_after(const Job& job, const std::string& name);

}  // namespace tapwright::ui
