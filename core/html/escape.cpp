#include "core/html/escape.h"

#include <algorithm>

#include "core/base/direction.h"
#include "core/base/text.h"

namespace tapwright::html {
namespace {

// Bytes of the well-formed character that begins `text`; 0: none.
std::size_t character_at(std::string_view text) {
    for (std::size_t length = 1; length <= std::min<std::size_t>(4, text.size()); ++length)
        if (is_utf8(text.substr(0, length))) return length;
    return 0;
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = character_at(text);
        const std::string_view character = text.substr(0, std::max<std::size_t>(length, 1));
        text.remove_prefix(character.size());
        const auto byte = static_cast<unsigned char>(character[0]);
        const bool c1 = length == 2 && byte == 0xC2 && static_cast<unsigned char>(character[1]) < 0xA0;
        const bool nothing = length == 3 && (character == "\xEF\xBF\xBE" || character == "\xEF\xBF\xBF");
        if (length == 0 || c1 || nothing || (byte < 0x20 && byte != '\n' && byte != '\t') || byte == 0x7F)
            out += "\xEF\xBF\xBD";
        else if (byte == '&')
            out += "&amp;";
        else if (byte == '<')
            out += "&lt;";
        else if (byte == '>')
            out += "&gt;";
        else if (byte == '"')
            out += "&quot;";
        else if (byte == '\'')
            out += "&#39;";
        else
            out += character;
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
