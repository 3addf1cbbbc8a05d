// What a length of cable costs, in words.
#pragma once

#include "core/plan/cable.h"
#include "core/words/statement.h"

namespace tapwright {

// "1.5 mm²", "16 AWG".
Argument as_shown(const ConductorSize& size);

Statement statement_of(const CableQuestion& question, const CableAnswer& answer);

}  // namespace tapwright
