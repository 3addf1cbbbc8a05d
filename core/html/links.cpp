#include "core/html/links.h"

#include <algorithm>

#include "core/html/escape.h"
#include "core/html/kept.h"
#include "core/sheet/wholes.h"

namespace tapwright::html {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_of_address(char c) {
    return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.' || c == '-' || c == '_' ||
           c == '+';
}

// How many of the first characters are a mail address; 0: none.
std::size_t address_in(std::string_view text) {
    std::size_t at = 0;
    while (at < text.size() && is_of_address(text[at])) ++at;
    if (at == 0 || at >= text.size() || text[at] != '@') return 0;
    std::size_t end = at + 1;
    while (end < text.size() && is_of_address(text[end])) ++end;
    while (end > at && !is_digit(text[end - 1]) &&
           std::string_view(".-_+").find(text[end - 1]) != std::string_view::npos)
        --end;
    return text.substr(at + 1, end - at - 1).find('.') == std::string_view::npos ? 0 : end;
}

std::string link(std::string_view scheme, std::string_view address, std::string_view text, bool by_itself) {
    std::string made = "<a href=\"";
    made += scheme;
    made += address;
    made += by_itself ? "\" dir=\"ltr\">" : "\">";
    // Where an address is too long for its line, it goes on in the next one from its "@".
    const std::size_t at = std::min(text.find('@'), text.size());
    return made + escaped(text.substr(0, at)) + (at < text.size() ? "<wbr>" : "") + escaped(text.substr(at)) + "</a>";
}

std::string called(std::string_view number) {
    std::string digits;
    for (const char c : number)
        if (is_digit(c) || c == '+') digits += c;
    return digits;
}

}  // namespace

std::string linked(std::string_view text) {
    std::string out;
    std::size_t plain = 0;  // where what was not written yet begins
    for (std::size_t i = 0; i < text.size();) {
        const bool in_a_word = i > 0 && is_of_address(text[i - 1]);
        const std::string_view rest = text.substr(i);
        const std::size_t address = in_a_word ? 0 : address_in(rest);
        const bool may_begin = is_digit(text[i]) || text[i] == '+';
        const std::size_t number = in_a_word || !may_begin ? 0 : document::number_to_call(rest);
        const std::size_t length = std::max(address, number);
        if (length == 0) {
            ++i;
            continue;
        }
        out += kept(text.substr(plain, i - plain));
        const std::string_view found = rest.substr(0, length);
        const bool by_itself = document::reads_by_itself(text, {i, i + length});
        out += address > 0 ? link("mailto:", found, found, by_itself) : link("tel:", called(found), found, by_itself);
        plain = i += length;
    }
    return out + kept(text.substr(plain));
}

}  // namespace tapwright::html
