// A catalogue: a compiled translation file of GNU gettext (.mo) in memory. Format: "The Format of GNU MO Files" in the
// gettext manual. Little-endian files with a sorted table, as msgfmt writes them.
#pragma once

#include <cstdint>
#include <string_view>

#include "core/base/result.h"

namespace tapwright {

// Which of a language's plural forms goes with a count: the expression behind `plural=` in a catalogue's header, in C's
// operators ? : || && == != < > <= >= + - * / % ! and n.
// Errors: text that is no such expression.
class PluralRule {
public:
    static Result<PluralRule> from(std::string_view expression);
    // Division by zero counts as 0.
    std::uint64_t form(std::uint64_t count) const;

private:
    std::string_view expression_ = "n != 1";  // checked once
};

class Catalogue {
public:
    // `bytes` are kept by reference and must outlive the catalogue.
    // Errors: bytes that are no such file.
    static Result<Catalogue> from(std::string_view bytes);

    // The translation; empty where there is none. A view into the file, ended by a NUL.
    std::string_view find(std::string_view context, std::string_view message) const;
    // The form for `count`.
    std::string_view find_plural(std::string_view context, std::string_view one, std::uint64_t count) const;

private:
    std::string_view translation(std::uint32_t place) const;
    std::string_view original(std::uint32_t place) const;
    std::string_view entry(std::string_view context, std::string_view message) const;
    std::string_view string_at(std::uint32_t table, std::uint32_t place) const;
    std::uint32_t word(std::size_t at) const;

    std::string_view bytes_;
    std::uint32_t count_ = 0;
    std::uint32_t originals_ = 0;     // offset of the table
    std::uint32_t translations_ = 0;  // offset of the table
    PluralRule plural_;
};

}  // namespace tapwright
