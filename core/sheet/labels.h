// Labels to cut out for both ends of every cable run, for zones at their terminals and for attenuators.
//
// That every end of every cable is marked, and by the same mark that the records use, is what ANSI/INFOCOMM F501.01 and
// ANSI/TIA-606 ask for; the layout is ours. A run belongs to the point it feeds, so its two labels carry that point's
// name: one says where the run comes from, the other where it goes to.
#pragma once

#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/derive/derived.h"
#include "core/sheet/document.h"

namespace tapwright {

// In millimetres.
struct LabelSize {
    double width = 0;
    double height = 0;
};

// "small" (38 x 13), "medium" (50 x 20), "large" (70 x 30), or "60x25" from 15x8 to 190x100 millimetres.
Result<LabelSize> label_size_from(std::string_view text);

struct LabelOptions {
    LabelSize size{50, 20};
    document::Paper paper = document::Paper::a4;
    std::string time;  // RFC 3339: when the sheet is made
    std::string zone;  // id of the one zone wanted; empty: all, and what is not traced
};

// Requires: `derived` is derive(job). Zones in their order, runs in the order in which they are fed.
document::Document label_sheet(const Job& job, const Derived& derived, const LabelOptions& options, const Words& words);

}  // namespace tapwright
