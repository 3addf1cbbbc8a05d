#include "platform/print/settable.h"

#include <glib.h>

#include "core/base/harmless.h"

namespace tapwright::print {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";  // U+FFFD
// Ours (core/base/direction.h).
constexpr gunichar first_strong_isolate = 0x2068;
constexpr gunichar pop_isolate = 0x2069;

// What one code point becomes.
void append_settable(std::string& out, gunichar character, std::string_view bytes) {
    if (character == '\n' || character == 0x85 || character == 0x2028 || character == 0x2029) {
        out += '\n';
    } else if (character == '\t') {
        out += ' ';
    } else if (does_something(character) && character != first_strong_isolate && character != pop_isolate) {
        out += replacement;
    } else {
        out += bytes;
    }
}

}  // namespace

std::string settable(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        if (text.starts_with("\r\n")) {
            text.remove_prefix(1);
            continue;
        }
        const auto left = static_cast<gssize>(text.size());
        const gunichar character = text[0] == '\0' ? 0 : g_utf8_get_char_validated(text.data(), left);
        if (character == static_cast<gunichar>(-1) || character == static_cast<gunichar>(-2)) {
            out += replacement;
            text.remove_prefix(1);
            continue;
        }
        const std::size_t length = character == 0 ? 1 : static_cast<std::size_t>(g_unichar_to_utf8(character, nullptr));
        append_settable(out, character == '\r' ? '\n' : character, text.substr(0, length));
        text.remove_prefix(length);
    }
    return out;
}

}  // namespace tapwright::print
