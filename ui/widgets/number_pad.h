// Digits for a thumb. The pad holds text, not a number: what it means is decided where quantities are read.
#pragma once

#include <string>
#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct PadDraft {
    std::string text;  // as typed, with a point
    Message problem;   // why it was refused; cleared by the next key
};

struct PadOptions {
    Message label = {};  // what is being entered
    Message unit = {};
    Message keep_label = Message("Save");
    bool sign = false;  // offers a minus sign
};

enum class PadEvent { none, typing, keep };

// Shows the value, the keys NAME.0 to NAME.9, NAME.point, NAME.sign, NAME.erase, and NAME.keep. A keyboard types into
// it as well: digits, point or comma, minus, Backspace, Enter, as long as no text field has the keyboard. Returns: keep
// when the value is to be kept (never while it is empty).
PadEvent number_pad(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options);

// What one key does to the text: at most 9 digits, one point, a sign only in front. '<' takes the last one away.
// Returns: the new text, the same when the key means nothing here.
std::string after_key(std::string text, char key);

}  // namespace tapwright::ui
