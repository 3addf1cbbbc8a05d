// A browser's private folder in memory, for tests: it counts what is asked of it, keeps a picture of itself after each
// step, can be full, can be held by another tab, and its steps can be written down.
#pragma once

#include <map>
#include <memory>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "platform/web/store/folder.h"
#include "platform/web/store/handles.h"
#include "tests/crash/recorded_disk.h"

namespace tapwright::test {

using Bytes = std::map<std::string, std::string>;  // of each file

class Disk : public Folder {
public:
    explicit Disk(OpenFiles& files) : files_(files) {}

    bool lasts() const override { return true; }
    void list(Done<std::vector<FolderEntry>> done) override;
    void open(const std::vector<std::string>& names, Done<void> done) override;
    void close(const std::vector<std::string>& names) override;
    void remove(const std::vector<std::string>& names, Done<void> done) override;
    void copy(const std::string& from, const std::string& to, Done<void> done) override;
    void read(const std::string& name, std::size_t most_bytes, Done<std::string> done) override;

    Bytes bytes;
    std::set<std::string> open_names;
    bool is_held = false;  // by another tab
    int writes_left = -1;  // until the disk is full; below 0: it never is

    bool keeps_pictures = false;
    std::vector<Bytes> pictures;  // after each write, truncation and flush

    std::vector<DiskEvent>* events = nullptr;  // where all that changes a file is written down

    void note(DiskEvent event) {
        if (keeps_pictures) pictures.push_back(bytes);
        if (events) events->push_back(std::move(event));
    }

private:
    OpenFiles& files_;
};

// The one set of open files that SQLite knows in these tests, empty.
OpenFiles& fresh_files();

}  // namespace tapwright::test
