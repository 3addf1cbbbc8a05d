#include <string>

#include "core/base/result.h"

using namespace tapwright;

Message message(std::string_view text) {
    const Message made = text;  // error
    return made;
}
