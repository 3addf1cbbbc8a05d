// What a reading says: the figure, what was expected and why, what it proves and what it cannot, and where to measure
// next.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "core/derive/derived.h"

namespace tapwright {

// A reading that is not in the job, judged against all of the record.
std::string sentence(const Job& job, const Reading& draft, const Judgement& judgement);
// The same for a reading of the job, against the record as it stood then. Requires: reading < number of readings.
std::string sentence(const Job& job, const Derived& derived, std::size_t reading);

// The sentence beside a reading that is not judged because of what or where it is.
std::string plain_sentence(const Job& job, const Reading& reading);

// What to do before measuring, in order.
std::span<const std::string_view> measuring_cautions();

}  // namespace tapwright
