#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdlib>

#include "core/base/text.h"
#include "core/units/parse.h"

namespace tapwright {
namespace {

constexpr std::size_t most_bytes = 100;  // of a figure with its unit
constexpr std::string_view minus_sign = "\u2212";
// What stands for a blank: U+0020, tab, line ends, U+00A0, U+2009, U+202F.
constexpr std::string_view blanks[] = {" ", "\t", "\n", "\r", "\u00a0", "\u2009", "\u202f"};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool starts_with_digit(std::string_view text) {
    return !text.empty() && is_digit(text.front());
}

std::string_view take_digits(std::string_view& text) {
    std::size_t count = 0;
    while (count < text.size() && is_digit(text[count])) ++count;
    const std::string_view digits = text.substr(0, count);
    text.remove_prefix(count);
    return digits;
}

// Requires: at most nine digits, so that it is an int.
int number_of(std::string_view digits) {
    int number = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), number);
    return number;
}

std::string_view without_leading_blanks(std::string_view text) {
    for (bool found = true; found;) {
        found = false;
        for (const std::string_view blank : blanks) {
            if (!text.starts_with(blank)) continue;
            text.remove_prefix(blank.size());
            found = true;
        }
    }
    return text;
}

// One reading of one text. Each step either takes from the front of `rest` or says why not.
class Reader {
public:
    Reader(std::string_view text, Unit unit, LengthUnits lengths)
        : text_(trimmed(text)), unit_(unit), lengths_(lengths), rest_(text_) {}

    Result<double> read() {
        if (text_.empty()) return Refusal{sentences({Message("Nothing was given."), remedy()})};
        if (text_.size() > most_bytes) return refuse(Message("“{given}” is too long for a figure.", given()));
        Result<Figure> figure = take_figure();
        if (!figure) return figure.refusal();
        if (rest_.starts_with('/') || starts_with_digit(rest_)) return read_fraction(*figure);
        const std::string_view spelled = trimmed(take_unit());
        const Result<UnitSpelling> spelling = spelling_of(spelled);
        if (!spelling) return spelling.refusal();
        if (spelling->conversion == Conversion::feet && starts_with_digit(rest_)) return read_feet_and_inches(*figure);
        if (!rest_.empty())
            return refuse(Message("“{given}” goes on after its unit, with “{rest}”.",
                                  {{"given", cited_given()}, {"rest", entered(cited(rest_, 20))}}));
        return finish(*figure, *spelling);
    }

private:
    // A decimal number as text, so that a power of ten can be joined to it before it is rounded once.
    struct Figure {
        std::string sign;
        std::string whole;
        std::string fraction;
        int exponent = 0;

        double value(int more = 0) const {
            const std::string digits =
                sign + (whole.empty() ? "0" : whole) + "." + fraction + "e" + std::to_string(exponent + more);
            return std::strtod(digits.c_str(), nullptr);
        }
        bool is_zero() const { return (whole + fraction).find_first_not_of('0') == std::string::npos; }
        bool is_whole_count() const { return fraction.empty() && exponent == 0; }
    };

    Message remedy() const { return words_of(unit_).remedy; }
    Entered cited_given() const { return entered(cited(text_, 40)); }
    std::vector<Named> given() const { return {{"given", cited_given()}}; }
    Refusal refuse(Message why) const { return {sentences({std::move(why), remedy()})}; }

    Result<Figure> take_figure() {
        Figure figure;
        if (rest_.starts_with('-') || rest_.starts_with('+')) {
            figure.sign = rest_.front() == '-' ? "-" : "";
            rest_.remove_prefix(1);
        } else if (rest_.starts_with(minus_sign)) {
            figure.sign = "-";
            rest_.remove_prefix(minus_sign.size());
        }
        rest_ = without_leading_blanks(rest_);
        figure.whole = take_digits(rest_);
        const Result<void> point = take_point(figure);
        if (!point) return point.refusal();
        if (figure.whole.empty() && figure.fraction.empty())
            return refuse(Message("“{given}” is not a number.", given()));
        take_exponent(figure);
        if (rest_.size() >= 2 && (rest_[0] == '.' || rest_[0] == ',') && is_digit(rest_[1]))
            return refuse(
                Message("“{given}” has more than one decimal point or comma. Do not separate thousands.", given()));
        rest_ = without_leading_blanks(rest_);
        return figure;
    }

    // A decimal point or comma, or a letter in its place.
    Result<void> take_point(Figure& figure) {
        if (rest_.size() < 2 || !is_digit(rest_[1])) return done();
        const char point = rest_[0];
        const bool letter = words_of(unit_).points.find(point) != std::string_view::npos;
        if (point != '.' && point != ',' && !letter) return done();
        rest_.remove_prefix(1);
        figure.fraction = take_digits(rest_);
        const std::string& whole = figure.whole;
        if (point == ',' && figure.fraction.size() == 3 && !whole.empty() && whole.size() <= 3 && whole[0] != '0')
            return refuse(
                Message("In “{given}” the comma could mean thousands or decimals. Use a decimal point.", given()));
        if (letter) {
            if (const auto spelling = find_spelling(unit_, std::string(1, point))) figure.exponent = spelling->exponent;
            spelled_inside_ = true;
        }
        return done();
    }

    void take_exponent(Figure& figure) {
        if (rest_.empty() || (rest_[0] != 'e' && rest_[0] != 'E') || spelled_inside_) return;
        std::string_view after = rest_.substr(1);
        const bool negative = after.starts_with('-');
        if (negative || after.starts_with('+')) after.remove_prefix(1);
        const std::string_view digits = take_digits(after);
        if (digits.empty()) return;
        const int size = digits.size() > 4 ? 9999 : number_of(digits);
        figure.exponent = negative ? -size : size;
        rest_ = after;
    }

    // Everything up to the next digit that is not part of a unit, such as the 2 of mm2.
    std::string_view take_unit() {
        std::size_t size = rest_.size();
        if (unit_ == Unit::metre)
            for (size = 0; size < rest_.size() && !is_digit(rest_[size]);) ++size;
        const std::string_view unit = rest_.substr(0, size);
        rest_.remove_prefix(size);
        return unit;
    }

    Result<UnitSpelling> spelling_of(std::string_view spelled) const {
        UnitSpelling plain{unit_, words_of(unit_).shown};
        if (unit_ == Unit::metre && lengths_ == LengthUnits::feet) plain.conversion = Conversion::feet;
        if (spelled.empty()) return plain;
        const std::optional<UnitSpelling> found = find_spelling(unit_, spelled);
        if (found && !(spelled_inside_ && found->exponent != 0)) return *found;
        if (const std::optional<Unit> other = unit_spelled(spelled); other && !found)
            return refuse(Message(words_of(*other).is_of_it, given()));
        return refuse(Message("“{unit}” in “{given}” is not a unit for this.",
                              {{"given", cited_given()}, {"unit", entered(cited(spelled, 20))}}));
    }

    Result<double> finish(const Figure& figure, const UnitSpelling& spelling) const {
        const double number = figure.value(spelling.exponent);
        double converted = number;
        if (spelling.conversion == Conversion::feet) converted = metres(number * 12);
        if (spelling.conversion == Conversion::inches) converted = metres(number);
        if (spelling.conversion == Conversion::fahrenheit) converted = (number - 32) / 1.8;
        if (spelling.conversion == Conversion::per_1000_feet) converted = number / 0.3048;
        if (!std::isfinite(converted)) return refuse(Message("“{given}” is too large.", given()));
        if (number == 0 && !figure.is_zero()) return refuse(Message("“{given}” is too small.", given()));
        return converted == 0 ? 0.0 : converted;  // no -0
    }

    // An inch is 25.4 mm exactly; divided once, so that whole inches come out as the nearest double.
    static double metres(double inches) { return inches * 254 / 10000; }

    // "1/2 in", and "6 1/2 in" whose 6 was taken already.
    Result<double> read_fraction(const Figure& first) {
        const Result<double> inches = take_fraction(first);
        if (!inches) return inches.refusal();
        const std::optional<UnitSpelling> spelling = find_spelling(Unit::metre, trimmed(rest_));
        if (!spelling || spelling->conversion != Conversion::inches)
            return refuse(Message("“{given}” has a fraction. Only inches may have one.", given()));
        return metres(*inches);
    }

    // `first`, and the fraction in front of `rest_` when one is there.
    Result<double> take_fraction(const Figure& first) {
        const bool is_numerator = rest_.starts_with('/');
        if (!is_numerator && !starts_with_digit(rest_)) return first.value();
        const std::string above = is_numerator ? first.whole : std::string(take_digits(rest_));
        if (unit_ != Unit::metre || !rest_.starts_with('/') || !first.is_whole_count())
            return refuse(Message("“{given}” has a second number. Do not separate thousands.", given()));
        rest_.remove_prefix(1);
        const std::string below(take_digits(rest_));
        rest_ = without_leading_blanks(rest_);
        if (below.empty() || below.size() > 3 || above.size() > 3 || number_of(below) == 0)
            return refuse(Message("“{given}” has a fraction that cannot be read.", given()));
        const double part = static_cast<double>(number_of(above)) / number_of(below);
        const double whole = is_numerator ? 0 : std::abs(first.value());
        return first.sign.empty() ? whole + part : -(whole + part);
    }

    // The feet were taken; `rest_` holds the inches.
    Result<double> read_feet_and_inches(const Figure& feet) {
        if (!feet.is_whole_count())
            return refuse(Message("“{given}” has inches after feet that are not whole.", given()));
        const Result<Figure> figure = take_figure();
        if (!figure) return figure.refusal();
        if (figure->whole.size() > 2)
            return refuse(Message("“{given}” has 12 inches or more besides its feet.", given()));
        const Result<double> inches = take_fraction(*figure);
        if (!inches) return inches.refusal();
        const std::string_view spelled = trimmed(rest_);
        const std::optional<UnitSpelling> spelling = find_spelling(Unit::metre, spelled);
        if (!spelled.empty() && (!spelling || spelling->conversion != Conversion::inches))
            return refuse(Message("“{given}” ends in “{unit}”, not in inches.",
                                  {{"given", cited_given()}, {"unit", entered(cited(spelled, 20))}}));
        if (*inches >= 12) return refuse(Message("“{given}” has 12 inches or more besides its feet.", given()));
        const double total = std::abs(feet.value()) * 12 + *inches;
        return metres(feet.sign.empty() ? total : -total);
    }

    std::string_view text_;
    Unit unit_;
    LengthUnits lengths_;
    std::string_view rest_;
    bool spelled_inside_ = false;  // a letter stood for the decimal point
};

}  // namespace

std::string_view trimmed(std::string_view text) {
    text = without_leading_blanks(text);
    for (bool found = true; found;) {
        found = false;
        for (const std::string_view blank : blanks) {
            if (!text.ends_with(blank)) continue;
            text.remove_suffix(blank.size());
            found = true;
        }
    }
    return text;
}

Result<double> parse_number(std::string_view text, Unit unit, LengthUnits lengths) {
    return Reader(text, unit, lengths).read();
}

Result<ConductorSize> parse_conductor_size(std::string_view text) {
    const std::string_view given = trimmed(text);
    const std::vector<Named> cited_given = {{"given", entered(cited(given, 40))}};
    const auto wrong = [](Message why) {
        return Refusal{sentences({std::move(why), Message("Write a conductor size, for example 18 AWG or 2.5 mm².")})};
    };
    if (given.empty()) return wrong(Message("Nothing was given."));
    if (parse_number(given, Unit::none))
        return wrong(Message("“{given}” could be a gauge or square millimetres.", cited_given));
    const bool gauge_first = given.size() > 3 && find_spelling(Unit::gauge, given.substr(0, 3));
    if (const Result<double> gauge = parse_number(gauge_first ? given.substr(3) : given, Unit::gauge)) {
        if (*gauge < 0 || *gauge > 40 || *gauge != std::floor(*gauge))
            return wrong(Message("“{given}” is not a gauge from 0 to 40.", cited_given));
        return ConductorSize(Gauge{static_cast<int>(*gauge)});
    }
    if (const Result<SquareMm> area = parse<SquareMm>(given)) {
        if (area->value() <= 0) return wrong(Message("“{given}” is not above 0.", cited_given));
        return ConductorSize(*area);
    }
    return wrong(Message("“{given}” is not a gauge or a cross-section.", cited_given));
}

}  // namespace tapwright
