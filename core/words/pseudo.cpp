#include "core/words/pseudo.h"

#include <map>
#include <string>

namespace tapwright {
namespace {

// Accented letters that the program's own typeface has, Latin-1 and Latin Extended-A. A vowel becomes two: that makes
// English about 40 % longer, as a translation may be.
std::string_view strange(char letter) {
    switch (letter) {
        case 'a':
            return "áa";
        case 'e':
            return "ée";
        case 'i':
            return "ïi";
        case 'o':
            return "óo";
        case 'u':
            return "üu";
        case 'y':
            return "ýy";
        case 'A':
            return "ÁA";
        case 'E':
            return "ÉE";
        case 'I':
            return "ÏI";
        case 'O':
            return "ÓO";
        case 'U':
            return "ÜU";
        case 'c':
            return "ç";
        case 'n':
            return "ñ";
        case 's':
            return "š";
        case 't':
            return "ţ";
        case 'r':
            return "ŕ";
        case 'l':
            return "ĺ";
        default:
            return {};
    }
}

std::string made_strange(std::string_view pattern) {
    std::string text = "«";
    bool in_place = false;
    for (const char letter : pattern) {
        if (letter == '{') in_place = true;
        const std::string_view other = in_place ? std::string_view() : strange(letter);
        if (other.empty())
            text += letter;
        else
            text += other;
        if (letter == '}') in_place = false;
    }
    return text + "»";
}

}  // namespace

std::string_view pseudo_pattern(std::string_view pattern) {
    static std::map<std::string, std::string, std::less<>> made;
    const auto found = made.find(pattern);
    if (found != made.end()) return found->second;
    return made.emplace(pattern, made_strange(pattern)).first->second;
}

}  // namespace tapwright
