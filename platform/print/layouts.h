// Blocks in two columns, and blocks set smaller so that they fit on one page (document::Layout).
#pragma once

#include <span>

#include "platform/print/compose.h"

namespace tapwright::print {

// Composes blocks with what their Layouts ask for. Layouts that do not pair are passed over.
Result<void> compose_range(Composer& composer, std::span<const document::Block> blocks);

}  // namespace tapwright::print
