#include <string>

#include "core/base/result.h"

using namespace tapwright;

// All that the other files get wrong, right.
Refusal refusal(bool cold, const std::string& name) {
    if (cold) return {Message("It is cold.")};
    return {
        sentences({Message("{room} is warm.", {{"room", entered(name)}}), plural("{count} lamp", "{count} lamps", 2)})};
}
