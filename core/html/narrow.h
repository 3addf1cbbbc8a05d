// Whether a table's words have room beside each other on a page, so that none of them need ever be broken.
#pragma once

#include "core/sheet/document.h"

namespace tapwright::html {

bool words_fit(const document::Table& table);

}  // namespace tapwright::html
