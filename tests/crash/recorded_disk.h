// A disk whose calls are written down: an SQLite VFS over the machine's own that keeps a list of all that changed a
// file or the folder, and of what was synced, so that the states a power cut could leave behind can be made afterwards.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/journal/journal.h"

namespace tapwright::test {

inline constexpr const char* recorded_disk = "recorded-disk";

struct DiskEvent {
    enum class What {
        create,       // a name in the folder, with an empty file behind it
        write,        // `bytes` at `at`
        resize,       // to `at` bytes
        sync,         // the file's bytes and length are on the disk
        remove,       // the name goes
        rename,       // `name` becomes `to`
        sync_folder,  // the names are on the disk
        done          // the program was told that a step is kept: `at` is its number
    };
    What what;
    std::string name, to;
    std::uint64_t at = 0;
    std::string bytes;
};

// Registers the VFS at the first call. Returns: what was written down since it was last cleared.
std::vector<DiskEvent>& disk_events();

// rename, sync_folder and remove of the machine, written down.
FilePort recorded_files();

}  // namespace tapwright::test
