#include "core/base/harmless.h"

#include "core/base/direction.h"
#include "core/base/text.h"

namespace tapwright {
namespace {

constexpr std::string_view replacement = "\uFFFD";
constexpr std::string_view line_end = "\u240A";
constexpr std::size_t isolate_bytes = 3;

// Most text is plain ASCII.
bool is_plain(std::string_view text) {
    for (const char c : text)
        if (c < 0x20 || c > 0x7E) return false;
    return true;
}

void add(std::string& made, std::string_view sign, char32_t code, Breaks breaks) {
    if (code == '\n')
        made += breaks == Breaks::kept ? sign : line_end;
    else if (code == '\t')
        made += breaks == Breaks::kept ? '\t' : ' ';
    else
        made += does_something(code) ? replacement : sign;
}

}  // namespace

bool does_something(char32_t sign) {
    const bool is_control = sign < 0x20 || (sign >= 0x7F && sign < 0xA0);
    const bool is_separator = sign == 0x2028 || sign == 0x2029;
    const bool is_none = (sign & 0xFFFF) == 0xFFFE || (sign & 0xFFFF) == 0xFFFF;
    return is_control || is_separator || is_none || is_direction_sign(sign);
}

std::string harmless(std::string_view text, Breaks breaks) {
    if (is_plain(text)) return std::string(text);
    std::string made;
    made.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) {
            made += replacement;
            text.remove_prefix(1);
            continue;
        }
        const bool is_line_end = text.starts_with("\r\n");
        if (is_line_end && breaks == Breaks::kept) text.remove_prefix(1);
        add(made, text.substr(0, length), code_point(text.substr(0, length)), breaks);
        text.remove_prefix(length);
    }
    return made;
}

std::string harmless_within_isolates(std::string_view text, Breaks breaks) {
    if (!is_one_isolate(text)) return harmless(text, breaks);
    const std::string_view inside = text.substr(isolate_bytes, text.size() - 2 * isolate_bytes);
    return std::string(text.substr(0, isolate_bytes)) + harmless(inside, breaks) +
           std::string(text.substr(text.size() - isolate_bytes));
}

}  // namespace tapwright
