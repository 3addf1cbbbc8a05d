// Makes the n-th allocation or the n-th call to the system of this process fail, once or from then on: operator new,
// the memory of SQLite, the calls of SQLite's file system, and those the program itself makes on files. The last are
// caught by the linker (--wrap), so what libraries call for themselves is not among them.
#pragma once

#include <cstdint>

namespace tapwright::test {

enum class Fault { memory, disk };

struct Faults {
    bool armed = false;  // counts and fails only while it is
    Fault kind = Fault::memory;
    bool for_good = false;
    std::int64_t at = -1;           // how many of that kind still work; -1: all
    std::int64_t* count = nullptr;  // so many were asked for, by this process and its children together
};

// Registers SQLite's part at the first call. Requires: the first call comes before anything else of SQLite.
Faults& faults();

}  // namespace tapwright::test
