// What the parts of the owner's sheet have in common.
#pragma once

#include "core/sheet/view.h"

namespace tapwright::sheet {

bool is_fitted_speaker(const Point& point);
bool has_override(const View& view, const Point& attenuator);

// A room by its place in job.all<Room>(); nowhere: not recorded.
std::uint32_t place_of_room(const View& view, const std::optional<Id>& room);
Message room_called(const View& view, std::uint32_t place);

// Whether every amplifier's breaker fits into the rows of the rooms.
bool are_breakers_short(const View& view);

}  // namespace tapwright::sheet
