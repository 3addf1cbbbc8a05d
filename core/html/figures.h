// Bars, drawings, pictures and signatures as inline SVG or img. Private to core/exchange/html.
#pragma once

#include <string>

#include "core/sheet/document.h"

namespace tapwright::html {

std::string figure(const document::Figure& figure);
std::string signature(const document::SignatureLine& signature, const Words& words);

}  // namespace tapwright::html
