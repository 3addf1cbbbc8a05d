// The sheet that notes a snag: what is wrong, and what it is about. Only its key notes it; what was typed waits there,
// for the place it was asked for, when the sheet is closed.
#pragma once

#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// Belongs to a screen.
class NoteSnag {
public:
    explicit NoteSnag(Shared& shared) : shared_(shared) {}
    // Asks for a snag about that record; an empty id: about nothing yet.
    void begin(const Id& about);
    // The sheet. Marks snag.new.*.
    void draw(Context& context);

private:
    void pick_about(Context& context);

    Shared& shared_;
    Id about_;
    std::string draft_;  // whose name among the drafts
    bool open_ = false, just_opened_ = false;
};

}  // namespace tapwright::ui
