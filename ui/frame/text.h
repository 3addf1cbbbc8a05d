// Text on the screen: measured, wrapped or shortened on purpose, and recorded so that a test can see that nothing was
// cut off or written over. Everything that shows words goes through here.
#pragma once

#include <imgui.h>

#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"

namespace tapwright::ui {

enum class Align { left, centre, right };

ImU32 ink(Colour colour);
Area area_of(ImVec2 least, ImVec2 greatest);

float line_height(const Context& context, TextSize size);
// Width of `text` in one line, in pixels.
float text_width(Context& context, TextSize size, std::string_view text);

// Text broken into lines no wider than `width`. With `most_lines` above 0 the last line ends in an ellipsis when the
// text does not fit; then `shortened` is true.
struct Lines {
    std::vector<std::string> lines;
    bool shortened = false;
    float width = 0, height = 0;  // pixels
    std::string full;
};
Lines broken_into_lines(Context& context, TextSize size, std::string_view text, float width, int most_lines = 0);

// Writes into `box`, which must be at least as high as the lines; centred vertically when it is higher.
void write(Context& context, ImDrawList* list, TextSize size, Colour colour, const Lines& lines, Area box,
           Align align = Align::left);

// What a mark says of several things that belong together: "L-104, 5 W, Dining room". What says nothing is left out.
Message read_out(std::vector<Message> parts);
// The same of a figure, its unit and its word: "57.5 W headroom".
Message in_a_row(std::vector<Message> parts);

// One line, ended by an ellipsis where the box is too narrow.
void write_line(Context& context, ImDrawList* list, TextSize size, Colour colour, std::string_view text, Area box,
                Align align = Align::left);

}  // namespace tapwright::ui
