#include "core/base/text.h"

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "core/base/ensure.h"
#include "core/base/harmless.h"

namespace tapwright {

// Source: RFC 3629, section 4.
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<std::uint8_t>(text[i]); };
    const std::uint8_t lead = byte(0);
    if (lead < 0x80) return 1;
    const std::size_t length = lead >= 0xC2 && lead <= 0xDF   ? 2
                               : lead >= 0xE0 && lead <= 0xEF ? 3
                               : lead >= 0xF0 && lead <= 0xF4 ? 4
                                                              : 0;
    if (length == 0 || text.size() < length) return 0;
    std::uint8_t low = 0x80;
    std::uint8_t high = 0xBF;
    if (lead == 0xE0) low = 0xA0;
    if (lead == 0xED) high = 0x9F;
    if (lead == 0xF0) low = 0x90;
    if (lead == 0xF4) high = 0x8F;
    if (byte(1) < low || byte(1) > high) return 0;
    for (std::size_t i = 2; i < length; ++i)
        if (byte(i) < 0x80 || byte(i) > 0xBF) return 0;
    return length;
}

char32_t code_point(std::string_view sequence) {
    const auto lead = static_cast<std::uint8_t>(sequence[0]);
    if (sequence.size() == 1) return lead;
    char32_t code = lead & (0xFFU >> (sequence.size() + 1));
    for (const char c : sequence.substr(1)) code = code << 6U | (static_cast<std::uint8_t>(c) & 0x3FU);
    return code;
}

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0) return false;
        text.remove_prefix(length);
    }
    return true;
}

std::size_t code_points(std::string_view text) {
    std::size_t count = 0;
    for (const char c : text) count += (static_cast<std::uint8_t>(c) & 0xC0) != 0x80;
    return count;
}

namespace {

// What begins or ends an isolate: contained by what cited() closes, and by those who isolate what is cited.
bool is_isolate(std::string_view sign) {
    return sign == "\u2066" || sign == "\u2067" || sign == "\u2068" || sign == "\u2069";
}

}  // namespace

std::string cited(std::string_view text, std::size_t most) {
    std::string shown;
    std::size_t open_isolates = 0;  // direction.h: what a cut leaves open would take what follows into its direction
    for (std::size_t count = 0; !text.empty(); ++count) {
        if (count == most) {
            shown += "…";
            for (; open_isolates > 0; --open_isolates) shown += "\u2069";
            return shown;
        }
        if (text.starts_with("\u2066") || text.starts_with("\u2067") || text.starts_with("\u2068"))
            ++open_isolates;
        else if (text.starts_with("\u2069") && open_isolates > 0)
            --open_isolates;
        const std::size_t length = sequence_length(text);
        const auto lead = static_cast<std::uint8_t>(text[0]);
        if (length == 0)
            shown += '?';
        else if (lead < 0x20 || lead == 0x7F)
            shown += ' ';
        else if (const std::string_view sign = text.substr(0, length); is_isolate(sign))
            shown += sign;
        else
            shown += harmless(sign, Breaks::shown);
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return shown;
}

std::string shortest(double number) {
    TAPWRIGHT_ENSURE(std::isfinite(number));
    if (number == 0) return "0";
    char buffer[40];
    for (int digits = 15; digits <= 17; ++digits) {
        std::snprintf(buffer, sizeof buffer, "%.*g", digits, number);
        if (std::strtod(buffer, nullptr) == number) break;
    }
    return buffer;
}

std::string rounded(double number, int decimals) {
    if (std::isnan(number)) return "unknown";
    if (std::isinf(number)) return number > 0 ? "infinite" : "minus infinite";
    char buffer[400];
    std::snprintf(buffer, sizeof buffer, "%.*f", decimals, number);
    std::string text = buffer;
    if (text.find('.') != std::string::npos) {
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

}  // namespace tapwright
