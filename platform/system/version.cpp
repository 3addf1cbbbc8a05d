#include "platform/system/version.h"

namespace tapwright {

std::string_view version() {
    return TAPWRIGHT_VERSION;
}

}  // namespace tapwright
