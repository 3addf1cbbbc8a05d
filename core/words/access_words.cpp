#include "core/words/access_words.h"

#include <cstdint>
#include <string>

#include "core/base/fold.h"

namespace tapwright {
namespace {

enum class AccessTopic : std::uint8_t { asbestos, ladder };

// How words begin, in small letters. From memory of the languages' everyday words; the program's own languages come
// first, the others because people write notes in theirs. `anywhere`: also within a longer word.
struct AccessWord {
    std::string_view begins;
    AccessTopic names;
    bool anywhere = false;
};

constexpr AccessWord access_words[] = {
    // English
    {"asbest", AccessTopic::asbestos, true},  // also German, Dutch, Danish, Norwegian, Swedish
    {"ladder", AccessTopic::ladder},          // also Dutch
    {"stepladder", AccessTopic::ladder},
    {"scaffold", AccessTopic::ladder},
    // German
    {"leiter", AccessTopic::ladder},
    {"stehleiter", AccessTopic::ladder},
    {"anlegeleiter", AccessTopic::ladder},
    {"gerüst", AccessTopic::ladder},
    // French
    {"amiant", AccessTopic::asbestos},  // also Spanish, Italian, Portuguese
    {"échelle", AccessTopic::ladder},
    {"escabeau", AccessTopic::ladder},
    {"échafaud", AccessTopic::ladder},
    // Spanish, Italian, Portuguese
    {"escalera", AccessTopic::ladder},
    {"andami", AccessTopic::ladder},
    {"ponteggi", AccessTopic::ladder},
    {"escada", AccessTopic::ladder},
    {"andaime", AccessTopic::ladder},
    // Dutch, Polish, Czech
    {"trapladder", AccessTopic::ladder},
    {"azbest", AccessTopic::asbestos},
    {"drabin", AccessTopic::ladder},
};

bool is_in_a_word(char c) {
    return (c >= 'a' && c <= 'z') || static_cast<unsigned char>(c) >= 0x80;
}

bool holds(std::string_view text, const AccessWord& word) {
    for (std::size_t at = text.find(word.begins); at != text.npos; at = text.find(word.begins, at + 1))
        if (word.anywhere || at == 0 || !is_in_a_word(text[at - 1])) return true;
    return false;
}

}  // namespace

AccessNames named_in(std::string_view access) {
    const std::string text = in_small_letters(access);
    AccessNames named;
    for (const AccessWord& word : access_words) {
        if (!holds(text, word)) continue;
        (word.names == AccessTopic::asbestos ? named.asbestos : named.ladder) = true;
    }
    return named;
}

}  // namespace tapwright
