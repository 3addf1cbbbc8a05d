// A language: its catalogue of translations and how it writes a number. English has no catalogue: a pattern stands for
// itself.
//
// Catalogues are GNU gettext's. core/words/languages/tapwright.pot is extracted from the sources; one LANGUAGE.po
// beside it for each language is compiled by msgfmt and built into the program, so that nothing is read at run time.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "core/words/catalogue.h"

namespace tapwright {

struct Language {
    std::string_view code = "en";          // BCP 47
    std::string_view name = "English";     // as its speakers call it
    const Catalogue* catalogue = nullptr;  // none: patterns as they are
    std::string_view decimal_mark = ".";
    std::string_view grouping{};  // between thousands from five digits on; ISO 80000-1 asks for a thin space
    bool is_pseudo = false;       // see pseudo()
};

const Language& english();

// English made strange: accents, about 40 % longer, and each message between « and ». What is not accented between the
// marks, and is no figure and nothing that people entered, has not come through a Message. For tests and translators.
const Language& pseudo();

// All that are built in: English, and a language for each .po. The pseudo-language is not among them.
std::span<const Language> languages();

// The built-in language for a code ("de", "de-CH", "de_CH.UTF-8"); "pseudo" is pseudo(). English where there is none.
const Language& language_for(std::string_view code);

}  // namespace tapwright
