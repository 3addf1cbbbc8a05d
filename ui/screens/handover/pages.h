// The pages that Handover leads to.
#pragma once

#include <memory>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Who took the system over: a name, in what capacity, a signature, for the record as it is now.
std::unique_ptr<Screen> sign_off_screen(Shared& shared);
// The knobs, inputs and limiters of each amplifier, as they were left.
std::unique_ptr<Screen> settings_left_screen(Shared& shared);

}  // namespace tapwright::ui
