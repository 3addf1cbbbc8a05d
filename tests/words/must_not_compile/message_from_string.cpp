#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(const std::string& text) {
    return Message(text);  // error
}
