// What of a text has to stay on one line: a figure and its unit, "70.7 V"; a day, "15 Apr 2025"; a number to call, "555
// 0142"; a word and its number, "Amplifier 1"; a code with a number behind a hyphen, "C-111". Renderers keep it whole
// where it has room. The text itself stays as it is, so that what is copied from a sheet, or looked for on it, is what
// was written.
#pragma once

#include <cstddef>
#include <string_view>
#include <vector>

namespace tapwright::document {

// Bytes [first, last) of a text.
struct Bytes {
    std::size_t first;
    std::size_t last;
};

// In order, none within another.
std::vector<Bytes> wholes_in(std::string_view text);

// How many bytes at the beginning of a text are a number to call: six digits or more, and no day. 0: none.
std::size_t number_to_call(std::string_view text);

// Whether a whole of `text` must be set from left to right by itself: in a text that is written from right to left the
// groups of "555-0142" would change places, and somebody would dial another number.
bool reads_by_itself(std::string_view text, const Bytes& whole);

}  // namespace tapwright::document
