#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(bool cold) {
    return Message("Cold: {cold}.", {{"cold", cold}});  // error
}
