// What `check` says, as JSON (the keys of the contract in docs/records.md) and as text for people.
#pragma once

#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/job/value.h"
#include "core/words/words.h"

namespace tapwright::cli {

// { zones, channels, amplifiers, findings }
Map check_json(const Job& job, const Derived& derived);
// `why`: with the reasons behind each finding.
std::string check_text(const Words& words, const Job& job, const Derived& derived, bool why);

// ---- tables ----
// Rows of cells as columns; numbers to the right, a choice alone in a cell as a title. `numbers_from`: the first column
// that holds numbers.
using Row = std::vector<Message>;
std::string columns(const Words& words, const std::vector<Row>& rows, std::size_t numbers_from);

// A name, and a figure that may be unknown.
inline Message cell(const std::string& name) {
    return entered(name);
}
template <class Q>
Message cell(const std::optional<Q>& figure) {
    return figure ? Message(*figure) : Message("unknown");
}
// Nothing where there is none.
template <class Q>
Message cell_if_any(const std::optional<Q>& figure) {
    return figure ? Message(*figure) : Message();
}

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
