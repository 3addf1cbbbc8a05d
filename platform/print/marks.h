// Which part of a page is which element's: small rectangles that paint.cpp draws before and after each, found again in
// what cairo wrote, taken out and turned into the marked content of a tagged PDF. Drawn, because no cairo drops what is
// drawn: its own structure tags it does, since 1.18 for one, around shapes without a text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tapwright::print {

// In points from the top left of the page. It lies in the page's corner, where the margins keep everything else out;
// its sides are whole numbers, which every number format of cairo's keeps.
struct Marker {
    double x;
    double y;
    double width;
    double height;
};
constexpr Marker mark_begins{1, 1, 1, 2};
constexpr Marker mark_ends{1, 1, 2, 1};

// `content`: a page's instructions (ISO 32000-1, 7.8.2), with as many pairs of markers as there are `types`. The n-th
// pair becomes "/<type n> << /MCID n >> BDC" and "EMC", whatever is drawn outside of pairs becomes an artifact
// (14.8.2.2). Of marked content that is not ours only what says which letters a glyph stands for is kept (14.9.4).
// Throws std::runtime_error, saying what, when the markers are not as many, or content is not what cairo writes.
std::string tagged_content(std::string_view content, const std::vector<const char*>& types);

}  // namespace tapwright::print
