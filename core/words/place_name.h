// What a record is called at the head of a sentence: its own name or label, or what a link to another system does.
#pragma once

#include <optional>

#include "core/base/message.h"
#include "core/job/job.h"

namespace tapwright {

Argument place_name(const Job& job, const Id& id);
// "No place" where there is none.
Argument place_name(const Job& job, const std::optional<Id>& id);

}  // namespace tapwright
