#include "core/base/fold.h"

#include <algorithm>
#include <cstddef>

#include "core/base/text.h"

namespace tapwright {
namespace {

// So many letters from `first` on, capitals and small ones, all written with the same plain ones.
struct Run {
    char32_t first, last;
    std::string_view plain;
};

constexpr Run runs[] = {
    {0xC0, 0xC5, "a"},      {0xC6, 0xC6, "ae"},    {0xC7, 0xC7, "c"},     {0xC8, 0xCB, "e"},     {0xCC, 0xCF, "i"},
    {0xD0, 0xD0, "d"},      {0xD1, 0xD1, "n"},     {0xD2, 0xD6, "o"},     {0xD8, 0xD8, "o"},     {0xD9, 0xDC, "u"},
    {0xDD, 0xDD, "y"},      {0xDE, 0xDE, "th"},    {0xDF, 0xDF, "ss"},    {0xE0, 0xE5, "a"},     {0xE6, 0xE6, "ae"},
    {0xE7, 0xE7, "c"},      {0xE8, 0xEB, "e"},     {0xEC, 0xEF, "i"},     {0xF0, 0xF0, "d"},     {0xF1, 0xF1, "n"},
    {0xF2, 0xF6, "o"},      {0xF8, 0xF8, "o"},     {0xF9, 0xFC, "u"},     {0xFD, 0xFD, "y"},     {0xFE, 0xFE, "th"},
    {0xFF, 0xFF, "y"},      {0x100, 0x105, "a"},   {0x106, 0x10D, "c"},   {0x10E, 0x111, "d"},   {0x112, 0x11B, "e"},
    {0x11C, 0x123, "g"},    {0x124, 0x127, "h"},   {0x128, 0x131, "i"},   {0x132, 0x133, "ij"},  {0x134, 0x135, "j"},
    {0x136, 0x138, "k"},    {0x139, 0x142, "l"},   {0x143, 0x14B, "n"},   {0x14C, 0x151, "o"},   {0x152, 0x153, "oe"},
    {0x154, 0x159, "r"},    {0x15A, 0x161, "s"},   {0x162, 0x167, "t"},   {0x168, 0x173, "u"},   {0x174, 0x175, "w"},
    {0x176, 0x178, "y"},    {0x179, 0x17E, "z"},   {0x17F, 0x17F, "s"},   {0x1A0, 0x1A1, "o"},   {0x1AF, 0x1B0, "u"},
    {0x1CD, 0x1CE, "a"},    {0x1CF, 0x1D0, "i"},   {0x1D1, 0x1D2, "o"},   {0x1D3, 0x1DC, "u"},   {0x1E6, 0x1E7, "g"},
    {0x1E8, 0x1E9, "k"},    {0x1EA, 0x1ED, "o"},   {0x1F8, 0x1F9, "n"},   {0x218, 0x219, "s"},   {0x21A, 0x21B, "t"},
    {0x1E9E, 0x1E9E, "ss"}, {0x1EA0, 0x1EB7, "a"}, {0x1EB8, 0x1EC7, "e"}, {0x1EC8, 0x1ECB, "i"}, {0x1ECC, 0x1EE3, "o"},
    {0x1EE4, 0x1EF1, "u"},  {0x1EF2, 0x1EF9, "y"},
};

struct Other {
    char32_t from, to;
};

// Greek and Cyrillic letters that lose an accent; capitals without one are reckoned.
constexpr Other others[] = {
    {0x386, 0x3B1}, {0x388, 0x3B5}, {0x389, 0x3B7}, {0x38A, 0x3B9},  {0x38C, 0x3BF}, {0x38E, 0x3C5}, {0x38F, 0x3C9},
    {0x390, 0x3B9}, {0x3AA, 0x3B9}, {0x3AB, 0x3C5}, {0x3AC, 0x3B1},  {0x3AD, 0x3B5}, {0x3AE, 0x3B7}, {0x3AF, 0x3B9},
    {0x3B0, 0x3C5}, {0x3C2, 0x3C3}, {0x3CA, 0x3B9}, {0x3CB, 0x3C5},  {0x3CC, 0x3BF}, {0x3CD, 0x3C5}, {0x3CE, 0x3C9},
    {0x401, 0x435}, {0x419, 0x438}, {0x439, 0x438}, {0x451, 0x435},  {0x407, 0x456}, {0x457, 0x456}, {0x40E, 0x443},
    {0x45E, 0x443}, {0x490, 0x433}, {0x491, 0x433}, {0x2126, 0x3C9}, {0xB5, 0x3BC},
};

char32_t reckoned(char32_t letter) {
    for (const Other& each : others)
        if (each.from == letter) return each.to;
    if (letter >= 0x391 && letter <= 0x3A9 && letter != 0x3A2) return letter + 0x20;
    if (letter >= 0x410 && letter <= 0x42F) return letter + 0x20;
    if (letter >= 0x400 && letter <= 0x40F) return letter + 0x50;
    return letter;
}

bool is_passed_over(char32_t letter) {
    const bool is_blank = letter <= 0x20 || letter == 0xA0 || letter == 0x202F || letter == 0x3000;
    const bool is_dash = letter == '-' || letter == '_' || letter == 0xAD || letter == 0x2212;
    // Blanks of every width, joiners, hyphens and dashes; accents that follow their letter.
    return is_blank || is_dash || (letter >= 0x2000 && letter <= 0x2015) || (letter >= 0x300 && letter <= 0x36F);
}

void append(std::string& text, char32_t letter) {
    const auto put = [&](char32_t byte) { text += static_cast<char>(static_cast<unsigned char>(byte)); };
    if (letter < 0x800) {
        put(0xC0U | letter >> 6U);
    } else {
        put(0xE0U | letter >> 12U);
        put(0x80U | (letter >> 6U & 0x3FU));
    }
    put(0x80U | (letter & 0x3FU));
}

void append_folded(std::string& text, std::string_view sequence) {
    const char32_t letter = code_point(sequence);
    if (is_passed_over(letter)) return;
    for (const Run& run : runs)
        if (letter >= run.first && letter <= run.last) {
            text += run.plain;
            return;
        }
    const char32_t plain = reckoned(letter);
    if (plain == letter)
        text += sequence;
    else
        append(text, plain);
}

// Capitals from `first` on, up to `last`, every `step`-th of them, whose small letters stand `ahead`.
struct Capitals {
    char32_t first, last, step, ahead;
};

constexpr Capitals capitals[] = {
    {0xC0, 0xD6, 1, 0x20},    {0xD8, 0xDE, 1, 0x20},   {0x100, 0x12E, 2, 1},    {0x132, 0x136, 2, 1},
    {0x139, 0x147, 2, 1},     {0x14A, 0x176, 2, 1},    {0x179, 0x17D, 2, 1},    {0x1A0, 0x1A4, 2, 1},
    {0x1AF, 0x1AF, 1, 1},     {0x1CD, 0x1DB, 2, 1},    {0x1DE, 0x1EE, 2, 1},    {0x1F8, 0x21E, 2, 1},
    {0x222, 0x232, 2, 1},     {0x386, 0x386, 1, 0x26}, {0x388, 0x38A, 1, 0x25}, {0x38C, 0x38C, 1, 0x40},
    {0x38E, 0x38F, 1, 0x3F},  {0x391, 0x3A1, 1, 0x20}, {0x3A3, 0x3AB, 1, 0x20}, {0x3C2, 0x3C2, 1, 1},
    {0x400, 0x40F, 1, 0x50},  {0x410, 0x42F, 1, 0x20}, {0x460, 0x480, 2, 1},    {0x48A, 0x4BE, 2, 1},
    {0x4C1, 0x4CD, 2, 1},     {0x4D0, 0x52E, 2, 1},    {0x1E00, 0x1E94, 2, 1},  {0x1EA0, 0x1EFE, 2, 1},
    {0xFF21, 0xFF3A, 1, 0x20}};

char32_t small_letter(char32_t letter) {
    if (letter == 0x178) return 0xFF;
    if (letter == 0x1E9E) return 0xDF;
    for (const Capitals& some : capitals)
        if (letter >= some.first && letter <= some.last && (letter - some.first) % some.step == 0)
            return letter + some.ahead;
    return letter;
}

}  // namespace

std::string in_small_letters(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    while (!text.empty()) {
        const char first = text.front();
        const std::size_t length = std::max<std::size_t>(sequence_length(text), 1);
        const char32_t letter = length > 1 ? code_point(text.substr(0, length)) : 0;
        if (first >= 'A' && first <= 'Z')
            result += static_cast<char>(first - 'A' + 'a');
        else if (const char32_t small = small_letter(letter); small != letter)
            append(result, small);
        else
            result += text.substr(0, length);
        text.remove_prefix(length);
    }
    return result;
}

std::string folded(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    while (!text.empty()) {
        const char first = text.front();
        const std::size_t length = std::max<std::size_t>(sequence_length(text), 1);
        if (first >= 'A' && first <= 'Z')
            result += static_cast<char>(first - 'A' + 'a');
        else if (length > 1)
            append_folded(result, text.substr(0, length));
        else if (const bool is_no_utf8 = (first & 0x80) != 0;
                 is_no_utf8 || first > '_' || (first > ' ' && first < '_' && first != '-'))
            result += first;
        text.remove_prefix(length);
    }
    return result;
}

bool folds_into(std::string_view text, std::string_view part) {
    return folded(text).find(folded(part)) != std::string::npos;
}

}  // namespace tapwright
