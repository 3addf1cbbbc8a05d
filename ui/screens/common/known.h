// A figure that may not be known.
#pragma once

#include <optional>

#include "core/units/unit.h"

namespace tapwright::ui {

// "unknown" where there is none.
template <class Quantity>
Message known(const std::optional<Quantity>& quantity) {
    return quantity ? Message(*quantity) : Message("unknown");
}

}  // namespace tapwright::ui
