// What a power cut could leave behind, worked out from what was done to a disk.
//
// The model is the one file systems and disks allow, not the one they usually keep: between two syncs of a file each
// write may have reached the disk or not, whatever came before or after it, and may have reached it in part, sector by
// sector; the file may have its old length, its new one, or one between, and what it gained and nobody wrote is zeros
// or rubbish; names made, removed or renamed since the last sync of the folder may be there or not. A write touches no
// byte outside itself (SQLite's "powersafe overwrite", https://www.sqlite.org/psow.html).
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <random>
#include <string>
#include <vector>

#include "tests/crash/recorded_disk.h"

namespace tapwright::test {

// Names and what is in the files behind them.
using FolderState = std::map<std::string, std::string>;

class PowerCut {
public:
    explicit PowerCut(std::uint64_t seed) : random_(seed) {}

    void follow(const DiskEvent& event);

    // States the disk could be in if the power went now: first the plain ones (nothing that was not synced; all of it;
    // all but one write; one write alone; the last one torn), then random ones, at most `most`, none twice.
    void states(std::size_t most, const std::function<void(const FolderState&)>& take);

private:
    struct Pending {
        bool is_resize;
        std::uint64_t at;  // where, or how long
        std::string bytes;
    };
    struct File {
        std::string synced;
        std::vector<Pending> pending;
    };
    enum class Fate { lost, whole, torn };
    struct Choice {
        std::vector<Fate> fates;  // of every pending change of every file, in order
        std::vector<bool> names;  // of every pending change of a name
        bool rubbish = false;     // in what nobody wrote
        std::uint64_t tearing = 0;
    };
    using Names = std::map<std::string, std::shared_ptr<File>>;

    std::size_t pending_count() const;
    std::vector<std::shared_ptr<File>> files() const;
    Choice all(Fate fate, bool names) const;
    Choice any();
    FolderState made(const Choice& choice) const;
    std::string content(const File& file, const Choice& choice, std::size_t first) const;

    std::mt19937_64 random_;
    Names now_, synced_;
    std::vector<std::function<void(Names&)>> names_pending_;
};

}  // namespace tapwright::test
