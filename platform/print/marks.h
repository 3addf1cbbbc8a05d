// The marked content of a page as cairo writes it, turned into the marked content of a tagged PDF.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tapwright::print {

// `content`: a page's instructions (ISO 32000-1, 7.8.2), with as many numbered marks as there are `types`. The n-th
// mark becomes "/<type n> << /MCID n >> BDC", and whatever is drawn outside of marks becomes an artifact (14.8.2.2).
// Throws std::runtime_error, saying what, when the marks are not as many, or content is not what cairo writes.
std::string tagged_content(std::string_view content, const std::vector<const char*>& types);

}  // namespace tapwright::print
