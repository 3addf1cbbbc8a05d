// An SQLite VFS over the default one whose writes and syncs can be made to fail: a disk that is full, or breaks.
#pragma once

namespace tapwright::test {

inline constexpr const char* failing_disk = "failing-disk";

struct Trouble {
    int after = -1;        // this many writes and syncs still work; -1: all
    int error = 0;         // what the next ones give; SQLITE_FULL, SQLITE_IOERR_FSYNC ...
    bool for_good = true;  // false: only one fails
    int count = 0;         // writes and syncs since it was set
};

// Registers the VFS at the first call. Set the trouble through the reference.
Trouble& disk_trouble();

}  // namespace tapwright::test
