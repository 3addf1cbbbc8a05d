// The plan of a room: its floor to scale, loudspeakers where they are, put there by touch.
#pragma once

#include <memory>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

std::unique_ptr<Screen> room_plan_screen(Shared& shared, const Id& room);

}  // namespace tapwright::ui
