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
    bool sign = false;     // offers a minus sign
    float key_height = 0;  // pixels; 0: as usual
};

enum class PadEvent { none, typing, keep };

// Shows the value, the keys NAME.0 to NAME.9, NAME.point, NAME.sign, NAME.erase, and NAME.keep. A keyboard types into
// it as well: digits, point or comma, minus, Backspace, Enter, as long as no text field has the keyboard. The key of
// the decimal mark and the value are written as the language writes them. No key moves, whatever is typed: a refusal
// comes below. Returns: keep when the value is to be kept (never while it is empty).
PadEvent number_pad(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options);

// The two parts, for a page that has its own places for them: the value, and the keys, which need these many pixels.
void pad_value(Context& context, std::string_view name, const PadDraft& draft, const PadOptions& options);
float pad_value_height(const Context& context);
PadEvent pad_keys(Context& context, std::string_view name, PadDraft& draft, const PadOptions& options);
float pad_keys_height(const Context& context, float key_height);

// What one key does to the text: at most 9 digits, one point, a sign only in front. '<' takes the last one away.
// Returns: the new text, the same when the key means nothing here.
std::string after_key(std::string text, char key);

}  // namespace tapwright::ui
