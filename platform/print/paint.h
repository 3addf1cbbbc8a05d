// Pages onto paper: cairo draws them, and the tag tree learns where each piece of its content stands.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/words/words.h"
#include "platform/print/pages.h"
#include "platform/print/structure.h"
#include "platform/print/text.h"

namespace tapwright::print {

// Stands on every page below the body.
struct Footer {
    SharedText text;
    double height = 0;
};

// Footers may be as high as a quarter of the page. Returns: a sentence when this one is higher.
Result<Footer> set_footer(Typesetter& type, const std::string& text, const Frame& frame);

// Returns: a PDF with a marker (marks.h) before and after each piece of content; finish.h makes it a tagged one.
Result<std::string> paint(const std::vector<Page>& pages, const Frame& frame, const Footer& footer, Typesetter& type,
                          Structure& structure, const Words& words);

}  // namespace tapwright::print
