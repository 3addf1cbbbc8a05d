// Text in which there is nothing to read: a name of it would be a gap in every list, and two of them the same one.
#pragma once

#include <string_view>

namespace tapwright {

// Whether nothing would be seen of `text`, however long it is: it is empty, or has nothing but blanks of any script,
// signs that only join, part or vary others, signs that only change the direction of writing, and controls. A mark that
// is drawn upon the letter before it is seen, also where there is none. Bytes that are no UTF-8 are seen: a sign stands
// for them. Source: Unicode 15, PropList.txt (White_Space) and DerivedCoreProperties.txt
// (Default_Ignorable_Code_Point), and U+2800, the Braille pattern without dots.
bool is_blank(std::string_view text);

}  // namespace tapwright
