#include <string>

#include "core/base/result.h"

using namespace tapwright;

std::string text(const Message& message) {
    return message;  // error
}
