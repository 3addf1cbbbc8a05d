// What a finding says: what is wrong in figures, and what to do. Made only when somebody looks.
#pragma once

#include <string>

#include "core/derive/derived.h"

namespace tapwright {

// Where it is, what is wrong in figures, and what to do. Requires: `derived` is derive(job), `finding` one of its
// findings.
std::string sentence(const Job& job, const Derived& derived, const Finding& finding);

}  // namespace tapwright
