// Blocks in two columns, and blocks set smaller so that they fit on one page (document::Layout).
#pragma once

#include <span>

#include "platform/print/compose.h"

namespace tapwright::print {

// How far a page of its own is made smaller. At 0.72 body text has 6.8 points. What does not fit even so is set in full
// size over as many pages as it takes, in one column.
inline constexpr double smallest_scale = 0.72;

// Composes blocks with what their Layouts ask for. Layouts that do not pair are passed over.
Result<void> compose_range(Composer& composer, std::span<const document::Block> blocks);

}  // namespace tapwright::print
