// The catalogues that are built in: one for each .po in core/words/languages, compiled by msgfmt and written into a
// source file by platform/cmake/languages.cmake.
#pragma once

#include <span>
#include <string_view>

namespace tapwright {

struct BuiltInLanguage {
    std::string_view code;  // the .po's name
    std::string_view mo;    // the bytes of its .mo
};
std::span<const BuiltInLanguage> built_in_languages();

}  // namespace tapwright
