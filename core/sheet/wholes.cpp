#include "core/sheet/wholes.h"

#include <algorithm>
#include <array>

#include "core/base/direction.h"

namespace tapwright::document {
namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// What may stand before a word and belongs to its sentence; isolates (core/base/direction.h) among it.
constexpr std::array<std::string_view, 6> marks_before = {"(", "[", "\"", "\u2066", "\u2067", "\u2068"};
constexpr std::array<std::string_view, 10> marks_behind = {".", ",", ";", ":", "!", "?", "]", "\"", ")", "\u2069"};

bool is_unit(std::string_view word) {
    static constexpr std::array<std::string_view, 21> units = {"W",     "V",   "Ω",   "kΩ", "MΩ", "ohm", "dB",
                                                               "dB(A)", "%",   "m",   "ft", "mm", "mm²", "cm",
                                                               "Hz",    "kHz", "AWG", "mA", "A",  "°C",  "mH"};
    return std::find(units.begin(), units.end(), word) != units.end();
}

// Takes one mark off the end; false where none is there.
bool shorten(std::string_view text, Bytes& word) {
    const std::string_view held = text.substr(word.first, word.last - word.first);
    for (const std::string_view mark : marks_behind)
        if (held.ends_with(mark)) {
            word.last -= mark.size();
            return true;
        }
    return false;
}

Bytes without_marks_before(std::string_view text, Bytes word) {
    for (std::size_t k = 0; k < marks_before.size();) {
        const bool begins = text.substr(word.first, word.last - word.first).starts_with(marks_before[k]);
        word.first += begins ? marks_before[k].size() : 0;
        k = begins ? 0 : k + 1;
    }
    return word;
}

// The unit that a word is, whatever stands behind it; an empty piece where it is none. Brackets are part of one.
Bytes unit_in(std::string_view text, Bytes word) {
    do {
        if (is_unit(text.substr(word.first, word.last - word.first))) return word;
    } while (shorten(text, word));
    return {word.first, word.first};
}

// Words between spaces and line ends, as they stand.
std::vector<Bytes> words_of(std::string_view text) {
    std::vector<Bytes> words;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find_first_of(" \n\t", at), text.size());
        if (end > at) words.push_back({at, end});
        at = end + 1;
    }
    return words;
}

class Finder {
public:
    explicit Finder(std::string_view text) : text_(text), words_(words_of(text)) {}

    std::vector<Bytes> run() {
        for (std::size_t k = 0; k < words_.size(); ++k) {
            if (const std::size_t more = day_at(k); more > 0) {
                found_.push_back({without_marks_before(text_, words_[k]).first, bare(k + more).last});
                k += more;
            } else if (const Bytes unit = unit_behind(k); unit.last > unit.first) {
                found_.push_back({without_marks_before(text_, words_[k]).first, unit.last});
                ++k;
            } else if (const Bytes number = number_at(k); number.last > number.first) {
                found_.push_back(number);
                while (k + 1 < words_.size() && words_[k + 1].first < number.last) ++k;
            } else if (const Bytes numbered = numbered_at(k); numbered.last > numbered.first) {
                found_.push_back(numbered);
                ++k;
            } else {
                codes_in(bare(k));
            }
        }
        return std::move(found_);
    }

private:
    std::string_view cut(Bytes bytes) const { return text_.substr(bytes.first, bytes.last - bytes.first); }

    Bytes bare(std::size_t k) const {
        Bytes word = without_marks_before(text_, words_[k]);
        while (shorten(text_, word)) {
        }
        return word;
    }

    bool is_beside(std::size_t k) const {
        return k + 1 < words_.size() && words_[k].last + 1 == words_[k + 1].first && text_[words_[k].last] == ' ';
    }

    // How many words more a day goes on for: "15 Apr 2025", whatever the month is called. 0: none begins here.
    std::size_t day_at(std::size_t k) const {
        constexpr std::size_t most_digits = 2, digits_of_a_year = 4;
        std::string_view day = cut(without_marks_before(text_, words_[k]));
        if (day.ends_with('.')) day.remove_suffix(1);
        if (day.empty() || day.size() > most_digits || !std::all_of(day.begin(), day.end(), is_digit)) return 0;
        if (!is_beside(k) || !is_beside(k + 1) || is_digit(text_[words_[k + 1].first])) return 0;
        const std::string_view year = cut(bare(k + 2));
        return year.size() == digits_of_a_year && std::all_of(year.begin(), year.end(), is_digit) ? 2 : 0;
    }

    Bytes unit_behind(std::size_t k) const {
        const bool is_figure = is_beside(k) && is_digit(text_[words_[k].last - 1]);
        return is_figure ? unit_in(text_, words_[k + 1]) : Bytes{0, 0};
    }

    // Several figures before a unit are none.
    Bytes number_at(std::size_t k) const {
        const std::size_t first = without_marks_before(text_, words_[k]).first;
        const std::size_t length = number_to_call(text_.substr(first));
        const Bytes number{first, first + length};
        std::size_t last = k;
        while (last + 1 < words_.size() && words_[last + 1].first < number.last) ++last;
        const Bytes unit = unit_behind(last);
        return unit.last > unit.first ? Bytes{0, 0} : number;
    }

    // A name and its number, a room and how many are in it: "Amplifier 1", "hall 8".
    Bytes numbered_at(std::size_t k) const {
        constexpr std::size_t most_bytes = 14, most_digits = 3;
        if (!is_beside(k) || is_digit(text_[words_[k].first])) return {0, 0};
        const Bytes name = bare(k), number = bare(k + 1);
        const std::string_view digits = cut(number);
        const bool is_number = !digits.empty() && digits.size() <= most_digits &&
                               std::all_of(digits.begin(), digits.end(), is_digit) &&
                               number.first == words_[k + 1].first;
        const bool is_name = name.last > name.first && name.last - name.first <= most_bytes && ends_bare(k, name);
        if (!is_number || !is_name || day_at(k + 1) > 0) return {0, 0};
        const Bytes call = number_at(k + 1), unit = unit_behind(k + 1);
        return call.last > call.first || unit.last > unit.first ? Bytes{0, 0} : Bytes{name.first, number.last};
    }

    // Whether nothing but the end of somebody's words and a colon stands behind it.
    bool ends_bare(std::size_t k, const Bytes& name) const {
        const std::string_view rest = text_.substr(name.last, words_[k].last - name.last);
        return rest.empty() || rest == "\u2069" || rest == ":" || rest == "\u2069:";
    }

    // "C-111" and "2025-04-15", and each of "C-111/C-112" by itself.
    void codes_in(Bytes word) {
        for (std::size_t at = word.first; at < word.last;) {
            const std::size_t end = std::min(text_.find_first_of("/,;", at), word.last);
            if (is_code(text_.substr(at, end - at))) found_.push_back({at, end});
            at = end + 1;
        }
    }

    static bool is_code(std::string_view word) {
        for (std::size_t at = word.find('-', 1); at != std::string_view::npos; at = word.find('-', at + 1))
            if (at + 1 < word.size() && is_digit(word[at + 1])) return true;
        return false;
    }

    std::string_view text_;
    std::vector<Bytes> words_;
    std::vector<Bytes> found_;
};

}  // namespace

std::size_t number_to_call(std::string_view text) {
    std::size_t end = 0;
    std::size_t digits = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool may_stand = is_digit(text[i]) || (text[i] == '+' && i == 0) ||
                               std::string_view(" -/().").find(text[i]) != std::string_view::npos;
        if (!may_stand || (i == 0 && text[i] != '+' && !is_digit(text[i]))) break;
        if (!is_digit(text[i])) continue;
        ++digits;
        end = i + 1;
    }
    constexpr std::size_t least = 6, most = 15;
    const bool is_day = end == 10 && text[4] == '-' && text[7] == '-';
    return digits >= least && digits <= most && !is_day ? end : 0;
}

bool reads_by_itself(std::string_view text, const Bytes& whole) {
    return turns_direction(text) && !turns_direction(text.substr(whole.first, whole.last - whole.first));
}

std::vector<Bytes> wholes_in(std::string_view text) {
    if (std::none_of(text.begin(), text.end(), is_digit)) return {};
    return Finder(text).run();
}

}  // namespace tapwright::document
