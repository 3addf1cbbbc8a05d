#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(const std::string& noun) {
    return plural(noun, "lamps", 2);  // error
}
