#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(bool cold) {
    return Message(cold ? "It is cold." : "It is warm here.");  // error
}
