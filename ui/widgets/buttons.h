// Things to tap that do or choose something.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

enum class ButtonKind { plain, primary, danger, quiet };

struct ButtonOptions {
    ButtonKind kind = ButtonKind::plain;
    bool enabled = true;
    float width = 0;            // pixels; 0 takes what is left, below 0 as wide as its words
    float height = 0;           // pixels at least, for buttons side by side
    Shape shape = Shape::none;  // before the label
    bool tight = false;         // little room beside the label, for a key among keys
    int most_lines = 0;         // of the label, then it is shortened; 0: as many as it needs
    // It changes the job, and is off where that can only be read. So are primary and danger keys, and those with a
    // plus, without being told (Context::read_only; OnlyLooks for what is none).
    bool changes = false;
};

// Returns: true in the frame it was tapped. The label wraps; the button grows with it.
bool button(Context& context, std::string_view name, const Message& label, const ButtonOptions& options = {});

// A button that asks the host for a file. Returns: true in the frame it was tapped; the host has been asked then.
bool file_button(Context& context, std::string_view name, const Message& label, FilePurpose purpose,
                 const ButtonOptions& options = {});

// How high it would be, without drawing it.
float button_height(Context& context, const Message& label, const ButtonOptions& options);

// A square with a sign only; `what` is read out and marked.
bool icon_button(Context& context, std::string_view name, Shape shape, const Message& what, bool enabled = true);

// A label with a switch that also says "On" or "Off". Returns: true when it was tapped; the caller changes the value.
bool toggle(Context& context, std::string_view name, const Message& label, bool on, bool enabled = true);

// A label, a value and two keys, NAME.less and NAME.more. Returns: -1, 0 or +1.
int stepper(Context& context, std::string_view name, const Message& label, const Message& value, bool can_less = true,
            bool can_more = true);

// One of several, all in sight: a row of buttons that wraps, equally wide. Marks NAME.0, NAME.1 ...
struct Choice {
    Message label;            // for example "5 W"
    Message detail = {};      // what choosing it would mean, for example "42.5 W left"
    Tone tone = Tone::plain;  // of the detail; shows its shape
    bool enabled = true;
    std::string mark = {};  // what its mark ends in, instead of its number
};
// Returns: the index that was tapped, or -1. `chosen` -1 when none is.
int choice_row(Context& context, std::string_view name, std::span<const Choice> choices, int chosen);

// The same row where any number may be chosen: bit i of `chosen` is choice i. Returns: the index that was tapped, or
// -1.
// Requires: no more than several_most choices.
inline constexpr int several_most = 32;
int several_row(Context& context, std::string_view name, std::span<const Choice> choices, unsigned chosen);

}  // namespace tapwright::ui
