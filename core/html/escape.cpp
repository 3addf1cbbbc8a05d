#include "core/html/escape.h"

#include <algorithm>

#include "core/base/direction.h"
#include "core/base/harmless.h"
#include "core/base/text.h"

namespace tapwright::html {
namespace {

// Isolates are ours (core/base/direction.h): around somebody's words within a sentence of ours.
bool is_isolate(std::string_view sign) {
    return sign == "\u2068" || sign == "\u2069";
}

std::string_view entity_of(char sign) {
    switch (sign) {
        case '&':
            return "&amp;";
        case '<':
            return "&lt;";
        case '>':
            return "&gt;";
        case '"':
            return "&quot;";
        case '\'':
            return "&#39;";
        default:
            return "";
    }
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = std::max<std::size_t>(sequence_length(text), 1);
        const std::string_view sign = text.substr(0, length);
        if (const std::string_view entity = entity_of(sign[0]); !entity.empty())
            out += entity;
        else if (is_isolate(sign))
            out += sign;
        else
            out += harmless(sign, Breaks::kept);
        text.remove_prefix(length);
    }
    return out;
}

std::string direction(std::string_view text) {
    return holds_isolate(text) && !is_one_isolate(text) ? "" : " dir=\"auto\"";
}

std::string base64(std::string_view bytes) {
    static constexpr char letters[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string out;
    out.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const std::size_t count = std::min<std::size_t>(3, bytes.size() - i);
        unsigned group = 0;
        for (std::size_t k = 0; k < 3; ++k)
            group = group << 8U | (k < count ? static_cast<unsigned char>(bytes[i + k]) : 0U);
        for (std::size_t k = 0; k < 4; ++k) out += k <= count ? letters[group >> (18 - 6 * k) & 63U] : '=';
    }
    return out;
}

}  // namespace tapwright::html
