// What a zone balance says, with what to do next.
#pragma once

#include <string>

#include "core/readings/zone_balance.h"

namespace tapwright {

std::string balance_text(const Job& job, const ZoneBalance& balance);

}  // namespace tapwright
