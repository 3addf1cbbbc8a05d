// What is said at once, and what stands behind "Why".
#pragma once

#include "core/base/message.h"

namespace tapwright {

struct Statement {
    Message text;  // verdict first, then the next step: at most two short sentences
    Message why;   // the reasons, for who asks; may say nothing
};

}  // namespace tapwright
