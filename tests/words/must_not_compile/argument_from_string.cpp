#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(const std::string& name) {
    return Message("{room} is cold.", {{"room", name}});  // error
}
