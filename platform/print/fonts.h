// The fonts of the sheet: Inter, and Noto for every script that Inter does not have, whatever this machine's own
// fontconfig prefers.
#pragma once

#include <string>

#include "core/base/result.h"
#include "platform/print/handles.h"

namespace tapwright::print {

struct Fonts {
    FontMap map;
    FontContext context;
};

// `language` is a BCP 47 tag such as "en" or "ja"; it chooses between the regional forms of shared characters.
// Returns: fonts measured without hinting at 1 unit = 1 point, or a sentence when the machine has none of them.
Result<Fonts> open_fonts(const std::string& language);

}  // namespace tapwright::print
