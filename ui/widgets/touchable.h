// The one thing every touchable widget is made of: an area that can be tapped, held and reached by keyboard.
#pragma once

#include <imgui.h>

#include <string>
#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct Touch {
    Area area;
    bool tapped = false;   // or Enter or Space while focused
    bool held = false;     // the finger is down on it
    bool hovered = false;  // a mouse is over it
    bool focused = false;  // by keyboard, and the focus is showing
    bool long_pressed = false;
};

// Adds an area of that size at the cursor and marks it as a button; whoever makes something else of it says so in
// context.marks.last(). `name` is unique in the frame; `text` what a person would read.
// Requires: size is at least one pixel each way.
Touch touchable(Context& context, std::string_view name, ImVec2 size, std::string_view text, bool enabled = true,
                bool wants_long_press = false);

// Marks the item drawn last, for widgets that are not made with touchable().
void mark(Context& context, std::string_view name, std::string_view text = {}, bool enabled = true,
          bool is_touchable = true);
// Marks any area that only shows something: a sentence or figure, or what `role` says.
void mark_area(Context& context, std::string_view name, Area area, std::string_view text, Role role = Role::text);

// Says of the mark added last that it is a choice, and what it is called, chosen or not.
void say_choice(Context& context, Role role, bool chosen, const Message& words);

// Gives the item drawn last the keyboard's focus where something outside asks for it by that name.
void take_focus(const Context& context, std::string_view name);

// Draws the focus ring inside `area` when it is focused; called last, so that nothing covers it.
void focus_ring(Context& context, const Touch& touch, float corner_units);

// Fills a rounded area and draws its edge.
void panel(Context& context, ImDrawList* list, Area area, Colour fill, Colour edge, float corner_units,
           float edge_units = 1);

// Width that is left for a widget at the cursor.
float width_left();
// Width of each of `count` widgets side by side with gaps, in what is left.
float share_of_width(const Context& context, int count);
// The next widget goes beside the one before; in a foot that is a column, below it.
void beside(const Context& context);
// Width of each of `count` keys of a foot: side by side, or as wide as the column.
float share_of_foot(const Context& context, int count);
// Empty space of so many units.
void space(const Context& context, float units);

}  // namespace tapwright::ui
