#include "core/base/blank.h"

#include <algorithm>
#include <iterator>

#include "core/base/text.h"

namespace tapwright {
namespace {

struct Range {
    char32_t first;
    char32_t last;
};

// Ascending.
constexpr Range unseen[] = {
    {0x0, 0x20},      {0x7F, 0xA0},       {0xAD, 0xAD},       {0x34F, 0x34F},    {0x61C, 0x61C},   {0x115F, 0x1160},
    {0x1680, 0x1680}, {0x17B4, 0x17B5},   {0x180B, 0x180F},   {0x2000, 0x200F},  {0x2028, 0x202F}, {0x205F, 0x206F},
    {0x2800, 0x2800}, {0x3000, 0x3000},   {0x3164, 0x3164},   {0xFE00, 0xFE0F},  {0xFEFF, 0xFEFF}, {0xFFA0, 0xFFA0},
    {0xFFF0, 0xFFF8}, {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}};

bool is_unseen(char32_t sign) {
    const Range* at = std::lower_bound(std::begin(unseen), std::end(unseen), sign,
                                       [](const Range& range, char32_t code) { return range.last < code; });
    return at != std::end(unseen) && at->first <= sign;
}

}  // namespace

bool is_blank(std::string_view text) {
    while (!text.empty()) {
        const std::size_t length = sequence_length(text);
        if (length == 0 || !is_unseen(code_point(text.substr(0, length)))) return false;
        text.remove_prefix(length);
    }
    return true;
}

}  // namespace tapwright
