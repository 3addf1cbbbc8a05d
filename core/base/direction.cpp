#include "core/base/direction.h"

#include <utility>

namespace tapwright {
namespace {

constexpr std::string_view opening = "\u2068";
constexpr std::string_view closing = "\u2069";

// The code point at `at`, and its length in bytes. Requires: UTF-8, at < size.
std::pair<char32_t, std::size_t> sign_at(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t k) {
        return k < text.size() ? static_cast<char32_t>(static_cast<unsigned char>(text[k])) : char32_t{0};
    };
    const char32_t lead = byte(at);
    if (lead < 0xC0) return {lead, 1};
    if (lead < 0xE0) return {(lead & 0x1F) << 6 | (byte(at + 1) & 0x3F), 2};
    if (lead < 0xF0) return {(lead & 0x0F) << 12 | (byte(at + 1) & 0x3F) << 6 | (byte(at + 2) & 0x3F), 3};
    return {(lead & 0x07) << 18 | (byte(at + 1) & 0x3F) << 12 | (byte(at + 2) & 0x3F) << 6 | (byte(at + 3) & 0x3F), 4};
}

// The blocks of Hebrew, Arabic, Syriac, Thaana, NKo and the other scripts Unicode reserves U+0590 to U+08FF for, the
// presentation forms, and the right-to-left parts of plane 1 (UnicodeData, "Default Bidi_Class Values" of
// DerivedBidiClass.txt, from memory).
bool is_right_to_left(char32_t sign) {
    return (sign >= 0x0590 && sign <= 0x08FF) || (sign >= 0xFB1D && sign <= 0xFDFF) ||
           (sign >= 0xFE70 && sign <= 0xFEFF) || (sign >= 0x10800 && sign <= 0x10FFF) ||
           (sign >= 0x1E800 && sign <= 0x1EFFF);
}

}  // namespace

bool is_direction_sign(char32_t sign) {
    return sign == 0x200E || sign == 0x200F || sign == 0x061C || (sign >= 0x202A && sign <= 0x202E) ||
           (sign >= 0x2066 && sign <= 0x2069);
}

bool turns_direction(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto [sign, length] = sign_at(text, at);
        if (is_direction_sign(sign) || is_right_to_left(sign)) return true;
        at += length;
    }
    return false;
}

std::string isolated(std::string_view text) {
    std::string made(opening);
    for (std::size_t at = 0; at < text.size();) {
        const auto [sign, length] = sign_at(text, at);
        if (!is_direction_sign(sign)) made += text.substr(at, length);
        at += length;
    }
    return made.append(closing);
}

std::string contained(std::string_view text) {
    return turns_direction(text) ? isolated(text) : std::string(text);
}

bool is_one_isolate(std::string_view text) {
    return text.starts_with(opening) && text.find(closing) == text.size() - closing.size();
}

bool holds_isolate(std::string_view text) {
    return text.find(opening) != std::string_view::npos;
}

}  // namespace tapwright
