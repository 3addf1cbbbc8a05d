// Texts in other directions of writing, kept from reordering what stands around them.
//
// A name in Arabic or Hebrew within an English sentence draws the figures beside it to its other side, so that "80 W of
// 100 W" reads as something else. Unicode's answer (UAX #9, "Directional Formatting Characters") is to put such a text
// between FIRST STRONG ISOLATE (U+2068) and POP DIRECTIONAL ISOLATE (U+2069).
//
// All take UTF-8.
#pragma once

#include <string>
#include <string_view>

namespace tapwright {

// A sign that changes the direction of writing: U+200E and U+200F, U+061C, the embeddings and overrides, the isolates.
bool is_direction_sign(char32_t sign);

// Whether a text holds anything that is written from right to left, or a sign that changes the direction of writing.
bool turns_direction(std::string_view text);

// The text between isolates and without signs of its own that change the direction.
std::string isolated(std::string_view text);

// isolated(), where the text turns the direction; else the text as it is.
std::string contained(std::string_view text);

// Whether it holds any isolate; whether all of it is one: somebody's own words, and nothing of ours around them.
bool holds_isolate(std::string_view text);
bool is_one_isolate(std::string_view text);

}  // namespace tapwright
