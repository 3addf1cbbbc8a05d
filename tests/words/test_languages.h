// The languages of tests/words/languages, compiled by msgfmt and built into the test.
#pragma once

#include <string_view>

#include "core/base/ensure.h"
#include "core/words/built_in_languages.h"

namespace tapwright {

std::span<const BuiltInLanguage> test_languages();

// Requires: there is one of that code.
inline std::string_view test_mo(std::string_view code) {
    for (const BuiltInLanguage& language : test_languages())
        if (language.code == code) return language.mo;
    TAPWRIGHT_ENSURE(!"a test language that is not there");
}

}  // namespace tapwright
