// Signs that no plain typeface has, such as emoji, written as words.
#pragma once

#include <glib.h>

#include <string>
#include <unordered_map>

#include "platform/print/fonts.h"

namespace tapwright::print {

class Signs {
public:
    // The fonts must outlive it.
    Signs(const Fonts& fonts, std::string language) : fonts_(fonts), language_(std::move(language)) {}

    // `text` with the Unicode names of what cannot be drawn in brackets: "Foyer [party popper]"; of a sign without a
    // name its number. Letters, also those of no font here, and whatever can be drawn stay as they are.
    // Requires: `text` is UTF-8.
    std::string in_words(const std::string& text);

private:
    bool can_be_drawn(gunichar character);

    const Fonts& fonts_;
    std::string language_;
    std::unordered_map<gunichar, bool> known_;
};

}  // namespace tapwright::print
