#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message() {
    return Message("It is ") + Message("cold.");  // error
}
