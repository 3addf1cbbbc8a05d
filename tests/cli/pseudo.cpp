#include "tests/cli/pseudo.h"

#include <algorithm>
#include <array>

namespace tapwright::test {
namespace {

constexpr std::string_view opens = "«";
constexpr std::string_view closes = "»";

// As the program writes them behind a figure; the last is dB(A), whose bracket is taken for punctuation.
constexpr std::array<std::string_view, 23> units = {"V",  "A",    "mA",  "W",  "mW",  "kW", "Ω",   "kΩ",
                                                    "MΩ", "Ω/km", "H",   "mH", "µH",  "Hz", "kHz", "m",
                                                    "ft", "in",   "mm²", "dB", "AWG", "°C", "dB(A"};

bool is_letter(unsigned char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || byte >= 0x80;
}
bool is_word_byte(char byte) {
    return is_letter(static_cast<unsigned char>(byte)) || (byte >= '0' && byte <= '9') || byte == '_';
}

// Blanks out `phrase` wherever it is not a part of a longer word.
void take_out(std::string& text, const std::string& phrase) {
    if (phrase.empty()) return;
    for (std::size_t at = text.find(phrase); at != std::string::npos; at = text.find(phrase, at + 1)) {
        const std::size_t end = at + phrase.size();
        const bool is_part = (at > 0 && is_word_byte(text[at - 1]) && is_word_byte(phrase.front())) ||
                             (end < text.size() && is_word_byte(text[end]) && is_word_byte(phrase.back()));
        if (!is_part) text.replace(at, phrase.size(), std::string(phrase.size(), ' '));
    }
}

bool has_letter(std::string_view word) {
    for (const std::string_view sign : {"\u2212", "°", "·", "–", "…"})
        for (std::size_t at = word.find(sign); at == 0; at = word.find(sign)) word.remove_prefix(sign.size());
    return std::any_of(word.begin(), word.end(), [](char c) { return is_letter(static_cast<unsigned char>(c)); });
}

std::string_view without_punctuation(std::string_view word) {
    constexpr std::string_view signs = ",;:.()|";
    while (!word.empty() && signs.find(word.front()) != std::string_view::npos) word.remove_prefix(1);
    while (!word.empty() && signs.find(word.back()) != std::string_view::npos) word.remove_suffix(1);
    return word;
}

void collect_names(const Value& value, std::set<std::string>& names) {
    if (const List* list = value.list())
        for (const Value& item : *list) collect_names(item, names);
    if (const Map* map = value.map())
        for (const auto& [key, held] : *map) {
            const bool is_name = key == "id" || key == "name" || key == "label";
            if (is_name && held.text()) names.insert(*held.text());
            collect_names(held, names);
        }
}

}  // namespace

std::string outside_marks(std::string_view text) {
    std::string left;
    std::vector<std::size_t> open;  // where in `left` each open mark stands
    while (!text.empty()) {
        if (text.starts_with(opens)) {
            open.push_back(left.size());
            left += opens;
            text.remove_prefix(opens.size());
        } else if (text.starts_with(closes) && !open.empty()) {
            left.resize(open.back());
            open.pop_back();
            text.remove_prefix(closes.size());
        } else {
            left += text.front();
            text.remove_prefix(1);
        }
    }
    return left;
}

std::vector<std::string> untranslated_words(std::string_view text, const std::set<std::string>& known) {
    std::string left = outside_marks(text);
    std::vector<std::string> phrases(known.begin(), known.end());
    std::sort(phrases.begin(), phrases.end(),
              [](const std::string& a, const std::string& b) { return a.size() > b.size(); });
    for (const std::string& phrase : phrases) take_out(left, phrase);
    std::vector<std::string> words;
    for (std::size_t start = 0; start < left.size();) {
        const std::size_t end = std::min(left.find_first_of(" \n\t", start), left.size());
        const std::string_view word = without_punctuation(std::string_view(left).substr(start, end - start));
        if (has_letter(word) && std::find(units.begin(), units.end(), word) == units.end()) words.emplace_back(word);
        start = end + 1;
    }
    return words;
}

std::set<std::string> names_in(const Value& job) {
    std::set<std::string> names;
    collect_names(job, names);
    return names;
}

}  // namespace tapwright::test
