// Making a trial real: whether its taps are set by then, what to mind before, and all of it in one batch.
#pragma once

#include <vector>

#include "core/plan/trial.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Belongs to a screen.
class MakeTrialReal {
public:
    explicit MakeTrialReal(Shared& shared) : shared_(shared) {}
    // Asks about that trial from this frame on.
    void begin(const Id& trial);
    // The question, while it is open. Marks trial.real_ask.*. Returns: true in the frame in which somebody wanted it
    // recorded.
    bool draw(Context& context);

private:
    ChangeList changes(const Job& job) const;
    bool draw_without_taps(Context& context, const Statement& cautions);
    bool draw_with_taps(Context& context, std::size_t taps, const Statement& cautions);
    bool record(Context& context, MadeReal how);

    Shared& shared_;
    Id trial_;
    bool open_ = false;
};

}  // namespace tapwright::ui
