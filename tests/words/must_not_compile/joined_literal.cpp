#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(const std::string& name) {
    return Message("It is cold in " + name);  // error
}
