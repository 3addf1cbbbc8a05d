#include <string>

#include "core/base/result.h"

using namespace tapwright;

Refusal refusal() {
    return Refusal{"It is cold."};  // error
}
