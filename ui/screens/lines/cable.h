// Cable before any record: load, length, size and volts in; what is lost, and how long it may be.
#pragma once

#include <memory>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Begins with the load and the voltage of the zone in hand, where there is one. Saves nothing.
std::unique_ptr<Screen> cable_screen(Shared& shared, const Session& session);

}  // namespace tapwright::ui
