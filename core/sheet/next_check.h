// When the system is to be checked next.
#pragma once

#include <optional>

#include "core/job/job.h"

namespace tapwright::sheet {

// The latest commissioning, handover or service visit and the job's months between checks; nothing where either is not
// recorded. The 31st becomes the last day of a shorter month.
std::optional<Date> next_check(const Job& job);

}  // namespace tapwright::sheet
