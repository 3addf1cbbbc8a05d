#include <algorithm>

#include "core/base/text.h"
#include "core/units/parse.h"

namespace tapwright {
namespace {

constexpr std::string_view list_blanks = " \t\n\r";

bool is_blank(char c) {
    return list_blanks.find(c) != std::string_view::npos;
}

// No-break and narrow blanks as plain ones.
std::string with_plain_blanks(std::string_view text) {
    std::string plain(text);
    for (const std::string_view blank : {"\u00a0", "\u2009", "\u202f"})
        for (std::size_t at = plain.find(blank); at != std::string::npos; at = plain.find(blank, at))
            plain.replace(at, blank.size(), " ");
    return plain;
}

// Whether a figure begins there: "3", "-3", "−3", ".5".
bool begins_figure(std::string_view text) {
    if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
    if (text.starts_with("\u2212")) text.remove_prefix(std::string_view("\u2212").size());
    if (text.starts_with('.') || text.starts_with(',')) text.remove_prefix(1);
    return !text.empty() && text.front() >= '0' && text.front() <= '9';
}

std::vector<std::string_view> parts_between(std::string_view text, auto separates) {
    std::vector<std::string_view> parts;
    std::size_t begin = 0;
    for (std::size_t i = 0; i <= text.size(); ++i) {
        if (i < text.size() && !separates(i)) continue;
        parts.push_back(trimmed(text.substr(begin, i - begin)));
        begin = i + 1;
    }
    return parts;
}

// As printed figures do, they rise or fall throughout.
bool runs_one_way(const std::vector<double>& figures) {
    return std::is_sorted(figures.begin(), figures.end()) || std::is_sorted(figures.rbegin(), figures.rend());
}

struct Parts {
    std::vector<std::string_view> parts;
    bool bare_commas = false;  // commas alone separate
    bool unclear = false;      // some commas have a blank behind them, others do not, and each could be decimal
};

Parts list_parts(std::string_view text) {
    const auto is_stroke = [&](std::size_t i) { return text[i] == ';' || text[i] == '/' || text[i] == '|'; };
    const auto is_comma = [&](std::size_t i) { return text[i] == ','; };
    const auto is_gap = [&](std::size_t i) {
        return is_blank(text[i]) && (i == 0 || !is_blank(text[i - 1])) &&
               begins_figure(text.substr(std::min(text.size(), text.find_first_not_of(list_blanks, i))));
    };
    std::size_t strokes = 0, gaps = 0, commas = 0, spaced = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        strokes += is_stroke(i);
        gaps += is_gap(i);
        commas += is_comma(i);
        spaced += is_comma(i) && (i + 1 == text.size() || is_blank(text[i + 1]) || (i > 0 && is_blank(text[i - 1])));
    }
    if (strokes > 0) return {parts_between(text, is_stroke)};
    if (spaced > 0) {
        const bool has_point = text.find('.') != std::string_view::npos;
        return {parts_between(text, is_comma), false, spaced != commas && !has_point};
    }
    if (gaps > 0) return {parts_between(text, is_gap)};
    return {parts_between(text, is_comma), commas > 0};
}

}  // namespace

Result<std::vector<double>> parse_numbers(std::string_view text, Unit unit) {
    const std::string plain = with_plain_blanks(trimmed(text));
    const Parts split = list_parts(plain);
    const bool in_decibels = unit == Unit::decibel;
    const std::vector<Named> named = {{"example", code(in_decibels ? "0/3/6/9" : "1.5/3/6")},
                                      {"unit", code(words_of(unit).shown)},
                                      {"given", entered(cited(plain, 24))}};
    const Refusal unclear{Message("Write a / between the figures: a comma in “{given}” could be decimal.", named)};
    if (split.unclear) return unclear;
    std::vector<double> figures;
    for (const std::string_view part : split.parts) {
        const Result<double> figure = parse_number(part, unit);
        if (!figure) return Refusal{Message("Write figures in {unit} such as {example}, not “{given}”.", named)};
        figures.push_back(*figure);
    }
    if (split.bare_commas && !runs_one_way(figures)) return unclear;
    return figures;
}

}  // namespace tapwright
