// The language a person at a terminal reads: TAPWRIGHT_LANGUAGE, else what the system says in LC_ALL, LC_MESSAGES or
// LANG, the first of them that is set. TAPWRIGHT_LANGUAGE=pseudo is the pseudo-language. English where it is not built
// in.
#pragma once

#include "core/words/language.h"

namespace tapwright::cli {

const Language& language_of_environment();

}  // namespace tapwright::cli
