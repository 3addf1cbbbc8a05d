// A home of its own for a test, with the person's settings in it.
#pragma once

#include <cstdint>

#include "core/session/session.h"
#include "tests/system/temporary.h"

namespace tapwright::test {

class Home {
public:
    const TemporaryFolder folder;
    // The next second, and other chance with it.
    Stamp stamp() {
        ++stamps_;
        return {"2026-03-02T08:00:00Z", 1772438400000 + stamps_ * 1000, static_cast<std::uint64_t>(stamps_) * 7919};
    }

private:
    std::int64_t stamps_ = 0;
    const Environment configured_{"XDG_CONFIG_HOME", folder.file("configuration")};
    const Environment home_{"HOME", folder.path().string()};
};

}  // namespace tapwright::test
