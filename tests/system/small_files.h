// A limit on how long a file may become, as long as it lives: what a disk that is nearly full does, for one process and
// those it starts.
#pragma once

#include <doctest/doctest.h>
#include <sys/resource.h>

namespace tapwright::test {

class SmallFiles {
public:
    explicit SmallFiles(rlim_t most_bytes) {
        REQUIRE(::getrlimit(RLIMIT_FSIZE, &before_) == 0);
        const rlimit small{most_bytes, before_.rlim_max};
        REQUIRE(::setrlimit(RLIMIT_FSIZE, &small) == 0);
    }
    SmallFiles(const SmallFiles&) = delete;
    SmallFiles& operator=(const SmallFiles&) = delete;
    ~SmallFiles() { ::setrlimit(RLIMIT_FSIZE, &before_); }

private:
    rlimit before_{};
};

}  // namespace tapwright::test
