// What finish.h does with libqpdf. Nothing but the C++17 of this folder is included here and in tagging.cpp, for clang
// takes qpdf's headers as that only.
#pragma once

#include <string>

#include "platform/print/structure.h"

namespace tapwright::print {

struct About {
    std::string language;
    std::string title;
    std::string author;   // empty: none
    std::string created;  // as pdf_date() writes it; empty: none
};

// The bytes with our tag tree and metadata. Throws std::exception, saying what, when `painted` is no PDF of
// `structure`.
std::string tagged(const std::string& painted, const Structure& structure, const About& about);

}  // namespace tapwright::print
