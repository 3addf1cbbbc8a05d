// Blocks in two columns, and blocks set smaller so that they fit on one page (document::Layout).
#pragma once

#include <span>

#include "platform/print/compose.h"

namespace tapwright::print {

// How far a page of its own is made smaller before it goes on over a second one. At 0.74 the smallest text has 5.6
// points, body text 7.
inline constexpr double smallest_scale = 0.74;

// Composes blocks with what their Layouts ask for. Layouts that do not pair are passed over.
Result<void> compose_range(Composer& composer, std::span<const document::Block> blocks);

}  // namespace tapwright::print
