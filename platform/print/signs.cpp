#include "platform/print/signs.h"

#include <pango/pangofc-fontmap.h>
#include <uniname.h>

#include <algorithm>
#include <array>
#include <cstdio>

namespace tapwright::print {
namespace {

constexpr gunichar first_sign = 0x2000;  // before it are letters and the signs that every font has

bool is_sign(gunichar character) {
    const GUnicodeType type = g_unichar_type(character);
    return type == G_UNICODE_OTHER_SYMBOL || (type == G_UNICODE_MODIFIER_SYMBOL && character >= 0x10000);
}

// What only says how a sign before it looks, or joins it to the next: joiners, variation selectors, tags.
bool belongs_to_sign(gunichar character) {
    return character == 0x200D || (character >= 0xFE00 && character <= 0xFE0F) ||
           (character >= 0xE0020 && character <= 0xE007F);
}

std::string name_of(gunichar character) {
    std::array<char, UNINAME_MAX> name{};
    if (unicode_character_name(character, name.data()) == nullptr) {
        std::snprintf(name.data(), name.size(), "U+%04X", static_cast<unsigned>(character));
        return name.data();
    }
    std::string words = name.data();
    std::transform(words.begin(), words.end(), words.begin(), [](char c) { return g_ascii_tolower(c); });
    return words;
}

}  // namespace

bool Signs::can_be_drawn(gunichar character) {
    const auto [at, is_new] = known_.try_emplace(character, true);
    if (!is_new) return at->second;
    const FontDescription font(pango_font_description_new());
    pango_font_description_set_family_static(font.get(), "Inter");
    PangoFontset* set = pango_font_map_load_fontset(fonts_.map.get(), fonts_.context.get(), font.get(),
                                                    pango_language_from_string(language_.c_str()));
    PangoFont* found = pango_fontset_get_font(set, character);
    at->second = found != nullptr && pango_font_has_char(found, character) != FALSE;
    if (found != nullptr) g_object_unref(found);
    g_object_unref(set);
    return at->second;
}

std::string Signs::in_words(const std::string& text) {
    std::string out;
    bool is_open = false;
    for (const char* at = text.c_str(); *at != '\0';) {
        const char* const next = g_utf8_next_char(at);
        const gunichar character = g_utf8_get_char(at);
        if (character >= first_sign && is_sign(character) && !can_be_drawn(character)) {
            out += is_open ? ", " : "[";
            out += name_of(character);
            is_open = true;
        } else if (!is_open || !belongs_to_sign(character)) {
            if (is_open) out += ']';
            is_open = false;
            out.append(at, next);
        }
        at = next;
    }
    if (is_open) out += ']';
    return out;
}

}  // namespace tapwright::print
