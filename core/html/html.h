// A neutral document as one self-contained HTML page: no scripts, nothing fetched, pictures and drawings inside. Reads
// on a phone from 360 CSS pixels on, and prints on the document's paper.
#pragma once

#include <string>

#include "core/sheet/document.h"

namespace tapwright {

// Returns: the page, UTF-8. The same document gives the same bytes. Whatever the texts hold, they stay texts.
std::string html_page(const document::Document& document);

}  // namespace tapwright
