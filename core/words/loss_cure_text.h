// What helps against too much cable loss, in a sentence.
#pragma once

#include "core/base/message.h"
#include "core/plan/loss_cure.h"

namespace tapwright {

// "Use 16 AWG instead of 18 AWG (loss then 0.7 dB), shorten the run to C-12 to 8 m, or lower taps."
Message message_of(const Job& job, const LossCure& cure);
// What a thicker run from the amplifier to the first point would do alone; nothing where that is not enough.
Message home_run_of(const Job& job, const LossCure& cure);

}  // namespace tapwright
