// Colours, text sizes and measures: everything that decides how the window looks, as plain values.
//
// Colours have meanings, not places: a widget asks for `quiet_text`, never for a grey. There are two themes, day
// (glare, paper-like) and night (dark plant room), and every pair of text and background that a widget may use is
// listed in text_pairs() so that a test can hold each of them to 4.5:1.
//
// Measures are in units: pixels of a window at scale 1. ui::Context::px() turns units into pixels.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/base/message.h"

namespace tapwright::ui {

// An sRGB colour, 8 bits a channel, alpha last.
struct Colour {
    std::uint8_t red = 0, green = 0, blue = 0, alpha = 255;
    bool operator==(const Colour&) const = default;
};

// `colour` with its alpha replaced (0..255).
Colour faded(Colour colour, std::uint8_t alpha);

// `share` (0..1) of `over` laid on `under`.
Colour mixed(Colour under, Colour over, double share);

// How serious something is. It never shows by colour alone: each tone also has a word and a shape.
enum class Tone { plain, good, note, warning, stop };

// What a tone looks like: text on its own fill, and a solid colour for shapes and words on page or card.
struct ToneColours {
    Colour fill, text, solid;
};

struct Theme {
    bool night = false;
    Colour page, card, field;         // backgrounds, from behind to front
    Colour text, quiet_text;          // on page, card and field
    Colour line;                      // edges that carry no meaning
    Colour edge;                      // edges of what can be touched (3:1 on page and card)
    Colour accent, on_accent;         // what acts; text on it
    Colour accent_fill, accent_text;  // chosen rows and places; text on them and accent-coloured words on page and card
    Colour block, block_other, trial;  // the load strip's blocks, neighbours told apart, and a trial's blocks
    Colour on_block;                   // text on a block
    ToneColours plain, good, note, warning, stop;

    const ToneColours& tone(Tone tone) const;
};

Theme day_theme();
Theme night_theme();

// The word that goes with a tone where the caller has no better one: "", "OK", "Note", "Warning", "Stop".
Message tone_word(Tone tone);

// Text sizes in units, as CSS pixels (the em square, not ImGui's ascent-to-descent).
enum class TextSize { caption, body, strong, title, big, huge };
// Returns: caption 14 (axis and strip labels only), body and strong 17, title 22, big 30, huge 40.
float text_units(TextSize size);
// True for the sizes set in the semibold face: strong, title, big, huge.
bool is_semibold(TextSize size);

// Measures in units.
namespace measure {
inline constexpr float touch = 48;         // least height and width of anything that can be touched
inline constexpr float gap = 8;            // between neighbours
inline constexpr float margin = 16;        // around a page
inline constexpr float corner = 10;        // cards, buttons and fields
inline constexpr float focus = 3;          // thickness of the focus ring
inline constexpr float wide_from = 900;    // windows at least this wide show a side list and three panes
inline constexpr float paired_from = 700;  // and these a list beside its page
inline constexpr float high_from = 520;    // a window lower than that and wider than high is a phone on its side
inline constexpr float rail_from = 288;    // six places below one another need that
inline constexpr float bar_height = 60;    // the places at the bottom
inline constexpr float short_below = 640;  // a window lower than that gives each thing less
inline constexpr float short_bar_height = 56;
inline constexpr float slot_height = 56;  // where the strip, what was saved and messages take turns
}  // namespace measure

// Contrast of two opaque colours, 1..21. Source: WCAG 2.2, "relative luminance" and "contrast ratio" definitions.
double contrast(Colour first, Colour second);

// A text and a background that some widget puts together.
struct TextPair {
    std::string name;
    Colour text, background;
};
std::vector<TextPair> text_pairs(const Theme& theme);

// Shapes and edges that carry meaning and the ground they stand on: WCAG 2.2, 1.4.11 wants 3:1.
std::vector<TextPair> shape_pairs(const Theme& theme);

}  // namespace tapwright::ui
