// What a fuzz target makes of the bytes it is given: choices, figures and records, so that a change of one byte is a
// change of one thing, and most inputs get past the first check. The same bytes make the same things; behind the last
// byte all is 0.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

#include "core/job/field_table.h"

namespace tapwright::fuzz {

class Draws {
public:
    Draws(const std::uint8_t* data, std::size_t size) : data_(data), size_(size) {}
    bool is_empty() const { return at_ == size_; }
    std::uint8_t byte() { return is_empty() ? std::uint8_t{0} : data_[at_++]; }
    // Requires: 0 < n.
    std::size_t below(std::size_t n);
    // Never behind the last byte, so that what is made there is plain.
    bool once_in(std::size_t n) { return !is_empty() && below(n) == n - 1; }
    std::string text(std::size_t most);
    std::string rest();

private:
    const std::uint8_t* data_;
    std::size_t size_;
    std::size_t at_ = 0;
};

// One of a few records of that kind: "zone0".
std::string any_id(Kind kind, Draws& draws);

// A figure the field allows, rather an end of its range than the middle.
double any_number(const FieldInfo& field, Draws& draws);

// A value of the field's form; for ids, of a record there may be.
Value any_value(const FieldInfo& field, Draws& draws);

// Changes of any kind to records there may be.
ChangeList any_changes(Draws& draws, std::size_t most);

// A job whose relations are sound, of two lines, as changes to an empty one.
ChangeList any_job(Draws& draws);

}  // namespace tapwright::fuzz
