// Positions as left: of attenuators, and of zones with a level control. A touch records it.
#pragma once

#include <string>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// The steps of the attenuator's type as keys, NAME.0 ...; the chosen one again: not recorded. Returns: false, and draws
// nothing, where its type tells no steps.
bool attenuator_steps(Context& context, Shared& shared, const std::string& name, const Point& attenuator);

// Keys for any position, a decibel at a time: NAME.less, NAME.more, NAME.full, NAME.off.
void attenuator_stepper(Context& context, Shared& shared, const std::string& name, const Point& attenuator);

// The level control of a zone, a decibel at a time: NAME.less, NAME.more.
void zone_level_stepper(Context& context, Shared& shared, const std::string& name, const Zone& zone);

}  // namespace tapwright::ui
