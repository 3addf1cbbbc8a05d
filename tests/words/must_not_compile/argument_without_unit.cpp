#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message() {
    return Message("{load} is drawn.", {{"load", 7.5}});  // error
}
