#include "core/words/words.h"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>

#include "core/base/ensure.h"
#include "core/base/text.h"
#include "core/units/show.h"
#include "core/words/choices.h"
#include "core/words/pseudo.h"

namespace tapwright {
namespace {

const Message& month_name(std::size_t month) {
    static const std::array<Message, 12> names = {
        Message("Jan"), Message("Feb"), Message("Mar"), Message("Apr"), in_context("month", "May"),
        Message("Jun"), Message("Jul"), Message("Aug"), Message("Sep"), Message("Oct"),
        Message("Nov"), Message("Dec")};
    return names.at(month - 1);
}

std::optional<int> whole(std::string_view digits) {
    int number = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    if (error != std::errc() || end != digits.data() + digits.size()) return std::nullopt;
    return number;
}

// Figures come with a decimal point; a language may write another mark and group thousands.
std::string with_marks(const std::string& figure, const Language& language) {
    if (language.decimal_mark == "." && language.grouping.empty()) return figure;
    std::string text;
    for (std::size_t at = 0; at < figure.size();) {
        std::size_t digits = 0;
        while (at + digits < figure.size() && figure[at + digits] >= '0' && figure[at + digits] <= '9') ++digits;
        for (std::size_t i = 0; i < digits; ++i) {
            const std::size_t left = digits - i;
            if (i > 0 && digits >= 5 && left % 3 == 0) text += language.grouping;
            text += figure[at + i];
        }
        at += digits;
        if (at == figure.size()) break;
        const bool is_mark = figure[at] == '.' && digits > 0;
        if (is_mark) {
            text += language.decimal_mark;
            ++at;
            while (at < figure.size() && figure[at] >= '0' && figure[at] <= '9') text += figure[at++];
        } else {
            text += figure[at++];
        }
    }
    return text;
}

}  // namespace

std::string Words::text(const Message& message) const {
    std::string text;
    add(text, message);
    return text;
}

std::string Words::text(const Argument& argument) const {
    std::string text;
    add(text, argument);
    return text;
}

std::string_view Words::translated(const Message& message) const {
    const Pattern& pattern = message.pattern();
    const std::string_view context = pattern.context ? pattern.context : "";
    const bool is_plural = pattern.many != nullptr;
    if (language_->catalogue) {
        const std::string_view found =
            is_plural ? language_->catalogue->find_plural(context, pattern.text,
                                                          static_cast<std::uint64_t>(std::abs(message.count())))
                      : language_->catalogue->find(context, pattern.text);
        if (!found.empty()) return found;
    }
    return is_plural && message.count() != 1 ? pattern.many : pattern.text;
}

void Words::add(std::string& text, const Message& message) const {
    if (!message.sentences().empty()) {
        for (const Message& sentence : message.sentences()) {
            if (!text.empty() && text.back() != ' ') text += ' ';
            add(text, sentence);
        }
        return;
    }
    if (message.pattern().empty()) return;
    const std::string_view pattern = translated(message);
    if (pattern == "{}") {
        add(text, message.named().front().value);
        return;
    }
    if (language_->is_pseudo)
        add_filled(text, pseudo_pattern(pattern), message);
    else
        add_filled(text, pattern, message);
}

void Words::add_filled(std::string& text, std::string_view pattern, const Message& message) const {
    while (!pattern.empty()) {
        const std::size_t open = pattern.find('{');
        text += pattern.substr(0, open);
        if (open == std::string_view::npos) return;
        const std::size_t close = pattern.find('}', open);
        TAPWRIGHT_ENSURE(close != std::string_view::npos);
        const Argument* argument = message.find(pattern.substr(open + 1, close - open - 1));
        TAPWRIGHT_ENSURE(argument);
        add(text, *argument);
        pattern.remove_prefix(close + 1);
    }
}

void Words::add(std::string& text, const Argument& argument) const {
    struct Adder {
        const Words& words;
        std::string& text;
        void operator()(const Entered& entered) const { text += words.shown(entered.text); }
        void operator()(const Code& code) const { text += code.text; }
        void operator()(const Figure& figure) const { text += words.figure(figure); }
        void operator()(const Count& count) const { text += with_marks(std::to_string(count.value), words.language()); }
        void operator()(const Day& day) const { text += words.shown(words.day(day)); }
        void operator()(const Moment& moment) const { text += words.shown(words.moment(moment)); }
        void operator()(const Choice& choice) const { words.add(text, words_of(choice)); }
        void operator()(const Series& series) const { words.add_series(text, series); }
        void operator()(const Message& message) const { words.add(text, message); }
    };
    std::visit(Adder{*this, text}, argument.value());
}

std::string Words::shown(std::string_view foreign) const {
    return harmless_within_isolates(foreign, breaks_);
}

std::string Words::figure(const Figure& figure) const {
    if (std::isnan(figure.value)) return text(Message("unknown"));
    if (std::isinf(figure.value) && figure.unit == Unit::ohm && figure.value > 0)
        return text(in_context("circuit", "open"));
    if (std::isinf(figure.value)) return text(Message("unknown"));
    if (figure.decimals != Figure::as_usual)
        return with_marks(show_decimals(figure.value, figure.decimals, figure.unit, figure.rounding), *language_);
    return with_marks(show_number(figure.value, figure.unit, lengths_, figure.rounding), *language_);
}

// "15 Apr 2025"; what is no day is shown as it stands.
std::string Words::day(const Day& day) const {
    const std::string_view date = day.date;
    if (date.size() != 10) return day.date;
    const auto year = whole(date.substr(0, 4));
    const auto month = whole(date.substr(5, 2));
    const auto number = whole(date.substr(8, 2));
    if (!year || !month || !number || *month < 1 || *month > 12) return day.date;
    // Not a Message of its own in the pseudo-language's eyes: a date is a figure.
    return text(in_context("date", "{day} {month} {year}",
                           {{"day", code(std::to_string(*number))},
                            {"month", month_name(static_cast<std::size_t>(*month))},
                            {"year", code(std::to_string(*year))}}));
}

// "15 Apr 2025, 14:05", by the clock of the place where it was written.
std::string Words::moment(const Moment& moment) const {
    if (moment.time.size() < 16 || moment.time[10] != 'T') return day(Day{moment.time});
    return text(in_context("date", "{day}, {time}",
                           {{"day", Day{moment.time.substr(0, 10)}}, {"time", code(moment.time.substr(11, 5))}}));
}

void Words::add_series(std::string& text, const Series& series) const {
    if (series.items.empty()) return;
    std::string all = this->text(series.items.front());
    for (std::size_t i = 1; i < series.items.size(); ++i) {
        const Message joined =
            i + 1 < series.items.size()
                ? in_context("series", "{these}, {next}", {{"these", Code{all}}, {"next", series.items[i]}})
            : series.last == Series::Last::with_or
                ? in_context("series", "{these} or {last}", {{"these", Code{all}}, {"last", series.items[i]}})
                : in_context("series", "{these} and {last}", {{"these", Code{all}}, {"last", series.items[i]}});
        all.clear();
        add(all, joined);
    }
    text += all;
}

std::string in_english(const Message& message) {
    return Words().text(message);
}

std::string in_english(const Refusal& refusal) {
    return Words().text(refusal.message);
}

}  // namespace tapwright
