// A job whose texts cannot turn the direction of the sentences that quote them: for sheets and labels.
#pragma once

#include <optional>

#include "core/job/job.h"

namespace tapwright {

// The job with every text that turns the direction isolated (core/base/direction.h); nothing when there is none, which
// is the usual case.
std::optional<Job> with_isolated_texts(const Job& job);

}  // namespace tapwright
