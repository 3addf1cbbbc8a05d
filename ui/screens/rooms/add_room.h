// The sheet that adds a room: its name typed, or the next number taken as it stands. Only its key adds; a name that was
// typed waits there when the sheet is closed.
#pragma once

#include <functional>

#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// Belongs to a screen.
class AddRoom {
public:
    explicit AddRoom(Shared& shared) : shared_(shared) {}
    void begin() { open_ = just_opened_ = true; }
    // The sheet. Marks rooms.name, rooms.add. `made` runs once the room is kept, after the frame.
    void draw(Context& context, const std::function<void(Context&, const Id&)>& made);

private:
    Shared& shared_;
    bool open_ = false, just_opened_ = false;
};

}  // namespace tapwright::ui
