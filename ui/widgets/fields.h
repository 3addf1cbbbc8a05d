// Typing. The field of a record is kept when it is left or Enter is pressed. The field of something new is kept by the
// form's own key and by nothing else: leaving it, Enter and Escape change nothing. What is being typed lives in a Draft
// that belongs to the screen, and survives whatever happens around it.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct Draft {
    std::string text;      // what the field shows
    bool editing = false;  // the keyboard is in it
    bool unkept = false;   // differs from what is kept: being typed, or refused
    Message problem;       // why it was refused, shown below the field
};

enum class FieldEvent { none, typing, commit };

struct FieldOptions {
    Message hint = {};     // shown while empty, for example "such as Dining room" or the unit
    Message help = {};     // behind the hint; what has no room in the field is written out below it
    Message unit = {};     // at the right, for example "m"
    bool number = false;   // an on-screen keyboard shows digits; a tap selects all of it
    bool renamed = false;  // what stands there is mostly replaced: a tap selects all of it
    int rows = 1;          // more than 1: several lines; then Enter starts a new one
    bool focus = false;    // takes the keyboard in this frame
    bool enabled = true;
    bool is_new = false;     // of something that a key adds: never says commit, and Escape leaves what was typed
    float width = 0;         // pixels; 0 takes what is left
    float label_height = 0;  // pixels at least, for fields side by side
};

// How high its label would be, for fields side by side.
float label_height(Context& context, const Message& label, float width);

// A labelled field that shows `kept` until somebody types. Escape brings the kept value back.
// Why a text was refused stands below the field once no finger is down, so that nothing moves under one.
// Returns: commit in the frame in which it was left or Enter pressed with a changed text; draft.text has it.
FieldEvent text_field(Context& context, std::string_view name, const Message& label, std::string_view kept,
                      Draft& draft, const FieldOptions& options = {});

// Looks like a field; a touch is all it takes, for a figure that a pad asks for. `hint` while `value` says nothing.
// Returns: true in the frame it was tapped.
bool figure_key(Context& context, std::string_view name, const Message& label, const Message& value,
                const Message& hint, float width, float label_height = 0);

// Asks for the change a committed field means. A refusal comes back into the field, text and the sentence below it,
// and is said nowhere else.
// Requires: `draft` lives until the frame is settled (it belongs to a screen).
void keep_field(Context& context, Draft& draft, Message what,
                std::function<Result<void>(Session&, const std::string&)> make);

// A field without a label that filters as one types, with a key that empties it (NAME.clear).
// Returns: true when the text changed in this frame.
bool search_field(Context& context, std::string_view name, const Message& hint, std::string& text, bool focus = false);

}  // namespace tapwright::ui
