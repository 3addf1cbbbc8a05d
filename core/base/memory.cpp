#include "core/base/memory.h"

#include <cstdlib>
#include <new>

namespace tapwright {

void out_of_memory() {
#ifdef __cpp_exceptions
    throw std::bad_alloc();
#else
    std::abort();
#endif
}

}  // namespace tapwright
