#include "core/base/ensure.h"

#include <cstdio>
#include <cstdlib>

namespace tapwright {

void broken_expectation(const char* expectation, const char* file, int line) {
    std::fprintf(stderr, "tapwright: broken expectation at %s:%d: %s\n", file, line, expectation);
    std::abort();
}

}  // namespace tapwright
