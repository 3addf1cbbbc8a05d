#include "core/words/catalogue.h"

#include <algorithm>
#include <string>

namespace tapwright {
namespace {

// Evaluates a plural expression by recursive descent: a level for each precedence of C.
class PluralReader {
public:
    PluralReader(std::string_view text, std::uint64_t count) : rest_(text), count_(count) {}

    std::uint64_t read() { return choice(); }
    // After read(): whether the text was an expression, and all of it.
    bool is_whole() {
        skip_blanks();
        return !is_broken_ && rest_.empty();
    }

private:
    std::uint64_t choice() {
        if (++depth_ > most_depth) return broken();
        const std::uint64_t condition = either();
        std::uint64_t value = condition;
        if (take("?")) {
            const std::uint64_t first = choice();
            if (!take(":")) return broken();
            const std::uint64_t second = choice();
            value = condition ? first : second;
        }
        --depth_;
        return value;
    }
    std::uint64_t either() {
        std::uint64_t value = both();
        while (take("||")) {
            const std::uint64_t other = both();
            value = value || other;
        }
        return value;
    }
    std::uint64_t both() {
        std::uint64_t value = equal();
        while (take("&&")) {
            const std::uint64_t other = equal();
            value = value && other;
        }
        return value;
    }
    std::uint64_t equal() {
        std::uint64_t value = ordered();
        while (true) {
            if (take("=="))
                value = value == ordered();
            else if (take("!="))
                value = value != ordered();
            else
                return value;
        }
    }
    std::uint64_t ordered() {
        std::uint64_t value = sum();
        while (true) {
            if (take("<="))
                value = value <= sum();
            else if (take(">="))
                value = value >= sum();
            else if (take("<"))
                value = value < sum();
            else if (take(">"))
                value = value > sum();
            else
                return value;
        }
    }
    std::uint64_t sum() {
        std::uint64_t value = product();
        while (true) {
            if (take("+"))
                value += product();
            else if (take("-"))
                value -= product();
            else
                return value;
        }
    }
    std::uint64_t product() {
        std::uint64_t value = single();
        while (true) {
            if (take("*")) {
                value *= single();
            } else if (take("/")) {
                const std::uint64_t by = single();
                value = by == 0 ? 0 : value / by;
            } else if (take("%")) {
                const std::uint64_t by = single();
                value = by == 0 ? 0 : value % by;
            } else {
                return value;
            }
        }
    }
    std::uint64_t single() {
        if (++depth_ > most_depth) return broken();
        std::uint64_t value = 0;
        if (take("!")) {
            value = !single();
        } else if (take("(")) {
            value = choice();
            if (!take(")")) return broken();
        } else if (take("n")) {
            value = count_;
        } else {
            value = number();
        }
        --depth_;
        return value;
    }
    std::uint64_t number() {
        skip_blanks();
        std::size_t digits = 0;
        std::uint64_t value = 0;
        while (digits < rest_.size() && rest_[digits] >= '0' && rest_[digits] <= '9')
            value = value * 10 + static_cast<std::uint64_t>(rest_[digits++] - '0');
        if (digits == 0 || digits > 18) return broken();
        rest_.remove_prefix(digits);
        return value;
    }

    void skip_blanks() {
        while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t')) rest_.remove_prefix(1);
    }
    bool take(std::string_view sign) {
        skip_blanks();
        if (is_broken_ || !rest_.starts_with(sign)) return false;
        // "!" is not the start of "!=".
        if (sign == "!" && rest_.starts_with("!=")) return false;
        rest_.remove_prefix(sign.size());
        return true;
    }
    std::uint64_t broken() {
        is_broken_ = true;
        rest_ = {};
        return 0;
    }

    static constexpr int most_depth = 200;
    std::string_view rest_;
    std::uint64_t count_;
    int depth_ = 0;
    bool is_broken_ = false;
};

constexpr std::uint32_t magic = 0x950412de;

// The value of `plural=` in a catalogue's header; empty where there is none.
std::string_view plural_expression(std::string_view header) {
    constexpr std::string_view key = "plural=";
    std::size_t at = header.find(key);
    while (at != std::string_view::npos && at > 0 && header[at - 1] == 'n') at = header.find(key, at + 1);
    if (at == std::string_view::npos) return {};
    header.remove_prefix(at + key.size());
    return header.substr(0, header.find_first_of(";\n"));
}

}  // namespace

Result<PluralRule> PluralRule::from(std::string_view expression) {
    PluralReader reader(expression, 1);
    reader.read();
    if (!reader.is_whole())
        return Refusal{Message("{text} is no plural rule; write one in C's operators with n, for example n != 1.",
                               {{"text", code(expression)}})};
    PluralRule rule;
    rule.expression_ = expression;
    return rule;
}

std::uint64_t PluralRule::form(std::uint64_t count) const {
    return PluralReader(expression_, count).read();
}

Result<Catalogue> Catalogue::from(std::string_view bytes) {
    const Refusal refusal{Message("These bytes are no catalogue of translations; make one with msgfmt.")};
    Catalogue catalogue;
    catalogue.bytes_ = bytes;
    constexpr std::size_t header_size = 28;
    if (bytes.size() < header_size || catalogue.word(0) != magic || catalogue.word(4) >> 16 != 0) return refusal;
    catalogue.count_ = catalogue.word(8);
    catalogue.originals_ = catalogue.word(12);
    catalogue.translations_ = catalogue.word(16);
    for (const std::uint32_t table : {catalogue.originals_, catalogue.translations_}) {
        if (table % 4 != 0 || table > bytes.size() || catalogue.count_ > (bytes.size() - table) / 8) return refusal;
        for (std::uint32_t i = 0; i < catalogue.count_; ++i) {
            const std::uint64_t length = catalogue.word(table + 8 * i);
            const std::uint64_t start = catalogue.word(table + 8 * i + 4);
            if (start + length >= bytes.size() || bytes[static_cast<std::size_t>(start + length)] != '\0')
                return refusal;
        }
    }
    if (const std::string_view rule = plural_expression(catalogue.entry({}, {})); !rule.empty()) {
        const Result<PluralRule> plural = PluralRule::from(rule);
        if (!plural) return plural.refusal();
        catalogue.plural_ = *plural;
    }
    return catalogue;
}

std::uint32_t Catalogue::word(std::size_t at) const {
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(bytes_[at + i]));
    };
    return byte(0) | byte(1) << 8 | byte(2) << 16 | byte(3) << 24;
}

std::string_view Catalogue::string_at(std::uint32_t table, std::uint32_t place) const {
    const std::size_t row = std::size_t(table) + 8 * std::size_t(place);
    return bytes_.substr(word(row + 4), word(row));
}

std::string_view Catalogue::original(std::uint32_t place) const {
    return string_at(originals_, place);
}

std::string_view Catalogue::translation(std::uint32_t place) const {
    return string_at(translations_, place);
}

// All forms of the translation, between them a NUL. The key is CONTEXT EOT MESSAGE; of a plural the table holds
// MESSAGE NUL MANY, and MESSAGE alone is compared.
std::string_view Catalogue::entry(std::string_view context, std::string_view message) const {
    std::string key(context);
    if (!context.empty()) key += '\x04';
    key += message;
    std::uint32_t low = 0;
    std::uint32_t high = count_;
    while (low < high) {
        const std::uint32_t middle = low + (high - low) / 2;
        std::string_view name = original(middle);
        name = name.substr(0, name.find('\0'));
        if (name == key) return translation(middle);
        if (name < key)
            low = middle + 1;
        else
            high = middle;
    }
    return {};
}

std::string_view Catalogue::find(std::string_view context, std::string_view message) const {
    const std::string_view found = entry(context, message);
    return found.substr(0, found.find('\0'));
}

std::string_view Catalogue::find_plural(std::string_view context, std::string_view one, std::uint64_t count) const {
    std::string_view forms = entry(context, one);
    for (std::uint64_t form = plural_.form(count); form > 0; --form) {
        const std::size_t end = forms.find('\0');
        if (end == std::string_view::npos) return {};
        forms.remove_prefix(end + 1);
    }
    return forms.substr(0, forms.find('\0'));
}

}  // namespace tapwright
