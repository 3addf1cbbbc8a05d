#include "core/html/narrow.h"

#include <algorithm>

#include "core/base/text.h"

namespace tapwright::html {
namespace {

// Letters of a table's size on the narrowest page that shows it as a table, each column's gap counted as two of them.
constexpr std::size_t letters_in_a_row = 90;
constexpr std::size_t letters_in_a_gap = 2;
constexpr std::size_t letters_in_a_mark = 2;  // before a cell with a tone

std::size_t longest_word(std::string_view text) {
    std::size_t longest = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find_first_of(" \n"), text.size());
        longest = std::max(longest, code_points(text.substr(0, end)));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return longest;
}

}  // namespace

bool words_fit(const document::Table& table) {
    std::size_t letters = 0;
    for (std::size_t k = 0; k < table.columns.size(); ++k) {
        std::size_t longest = longest_word(table.columns[k].title);
        for (const auto& row : table.rows)
            longest = std::max(
                longest, longest_word(row[k].text) + (row[k].tone == document::Tone::plain ? 0 : letters_in_a_mark));
        letters += longest + letters_in_a_gap;
    }
    return letters <= letters_in_a_row;
}

}  // namespace tapwright::html
