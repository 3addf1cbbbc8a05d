// A caution about hearing, in a sentence.
#pragma once

#include "core/base/message.h"
#include "core/plan/hearing.h"

namespace tapwright {

Message message_of(const HearingLimits& limits);

}  // namespace tapwright
