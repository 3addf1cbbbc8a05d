// The kinds of records, in the order in which files hold them.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string_view>

namespace tapwright {

enum class Kind : std::uint8_t {
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) singular,
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"
};

// How many kinds there are, `job` among them.
inline constexpr std::size_t kind_count = 0
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) +1
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"
    ;

constexpr Kind kind_at(std::size_t number) {
    return static_cast<Kind>(number);
}
constexpr std::size_t number_of(Kind kind) {
    return static_cast<std::size_t>(kind);
}

// "point", the word commands use; "points", the key files use; what one is, in English (help_of is its message).
std::string_view singular(Kind kind);
std::string_view plural(Kind kind);
std::string_view help(Kind kind);
std::optional<Kind> kind_from_singular(std::string_view text);
std::optional<Kind> kind_from_plural(std::string_view text);

// A set of kinds: what a reference may point at.
class KindSet {
public:
    constexpr KindSet() = default;
    constexpr KindSet(std::initializer_list<Kind> kinds) {
        for (const Kind kind : kinds) bits_ |= bit(kind);
    }
    static constexpr KindSet any() {
        KindSet all;
        all.bits_ = ~std::uint32_t{0};
        return all;
    }
    constexpr bool has(Kind kind) const { return (bits_ & bit(kind)) != 0; }
    constexpr bool empty() const { return bits_ == 0; }
    constexpr bool is_any() const { return bits_ == ~std::uint32_t{0}; }

private:
    static constexpr std::uint32_t bit(Kind kind) { return std::uint32_t{1} << static_cast<unsigned>(kind); }
    std::uint32_t bits_ = 0;
};

}  // namespace tapwright
