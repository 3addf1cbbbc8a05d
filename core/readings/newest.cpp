#include "core/readings/newest.h"

namespace tapwright {

bool is_newer(const Reading& a, const Reading& b) {
    if (!a.time || !b.time) return true;
    return milliseconds(*a.time) >= milliseconds(*b.time);
}

}  // namespace tapwright
