// Rows of lists, and facts with their labels.
#pragma once

#include <concepts>
#include <string>
#include <string_view>

#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

struct Row {
    Message title = {};         // wraps to two lines, then is shortened
    Message detail = {};        // below it, wraps to three lines, then is shortened
    bool whole = false;         // the detail is what matters: never shortened, and as dark as any text
    Message value = {};         // at the right, strong
    Tone tone = Tone::plain;    // with a shape, and `word` below the value (below the detail where it is narrow)
    Message word = {};          // empty: the tone's own
    Shape shape = Shape::none;  // what kind of thing it is, at the left
    bool chevron = false;       // leads to a page of its own
    bool selected = false;
    bool enabled = true;
};

struct RowTouch {
    bool tapped = false, long_pressed = false;
};

// A row over the whole width, itself a touch target.
RowTouch list_row(Context& context, std::string_view name, const Row& row);

// Passes by a row that is out of sight and was seen before. Returns: whether it did; what touched it, in `touch`.
bool passed_by(Context& context, std::string_view name, RowTouch& touch);

// The same for long lists: `make` gives the Row, and is not asked while it is out of sight.
template <std::invocable Make>
RowTouch list_row(Context& context, std::string_view name, Make&& make) {
    RowTouch touch;
    if (passed_by(context, name, touch)) return touch;
    return list_row(context, name, static_cast<const Row&>(make()));
}

// A step to tick off: a large box and what is to be done, over the whole width, itself a touch target. Marked with
// ", done" behind its words where it is ticked. Returns: true when it was tapped; the caller changes the value.
bool tick_row(Context& context, std::string_view name, const Message& step, bool ticked);

// "Length        12.5 m": label quiet, value strong at the right; the value goes below where both do not fit.
void label_value(Context& context, std::string_view name, const Message& label, const Message& value,
                 Tone tone = Tone::plain);

}  // namespace tapwright::ui
