#include "core/html/kept.h"

#include <algorithm>

#include "core/html/escape.h"
#include "core/sheet/wholes.h"

namespace tapwright::html {
namespace {

constexpr std::ptrdiff_t most_letters = 24;

bool begins_a_letter(char byte) {
    return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U;
}

}  // namespace

std::string kept(std::string_view text) {
    std::string out;
    std::size_t written = 0;
    for (const document::Bytes& whole : document::wholes_in(text)) {
        const std::string_view held = text.substr(whole.first, whole.last - whole.first);
        if (std::count_if(held.begin(), held.end(), begins_a_letter) > most_letters) continue;
        out += escaped(text.substr(written, whole.first - written));
        out += document::reads_by_itself(text, whole) ? "<span class=\"kept\" dir=\"ltr\">" : "<span class=\"kept\">";
        out += escaped(held) + "</span>";
        written = whole.last;
    }
    return out + escaped(text.substr(written));
}

}  // namespace tapwright::html
