// What `check` says, as JSON (the keys of the contract in docs/records.md) and as text for people.
#pragma once

#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/job/value.h"

namespace tapwright::cli {

// { zones, channels, amplifiers, findings }
Map check_json(const Job& job, const Derived& derived);
std::string check_text(const Job& job, const Derived& derived);

// Rows of cells as columns; numbers to the right. `numbers_from`: the first column that holds numbers.
std::string columns(const std::vector<std::vector<std::string>>& rows, std::size_t numbers_from);

// Numbers for JSON: null where unknown or without end.
template <class Q>
Value json_of(const Q& quantity) {
    return std::isfinite(quantity.value()) ? Value(quantity.value()) : Value();
}
template <class Q>
Value json_of(const std::optional<Q>& quantity) {
    return quantity ? json_of(*quantity) : Value();
}
Value json_of(const std::optional<Id>& id);

}  // namespace tapwright::cli
