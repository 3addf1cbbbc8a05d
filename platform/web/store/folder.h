// The browser's private folder, as the program asks for it: everything but what is open is asynchronous.
//
// Names are plain names of files in one folder. A file that a person chose or dropped has a name too, made by the page
// (is_from_outside()): it can be read and copied, nothing else.
//
// Every `done` is called exactly once, between frames, perhaps before the call returns.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

struct FolderEntry {
    std::string name;
    std::int64_t bytes = 0;
    std::int64_t changed_ms = 0;  // since 1970
};

class Folder {
public:
    template <class T>
    using Done = std::function<void(Result<T>)>;

    virtual ~Folder() = default;

    // Whether what is kept here is still there the next time. Not so in private windows.
    virtual bool lasts() const = 0;

    virtual void list(Done<std::vector<FolderEntry>> done) = 0;
    // Opens all of these files for reading and writing, those that are not there empty, and puts them into OpenFiles;
    // or none. Errors: another tab has one open; the storage is full or refused.
    virtual void open(const std::vector<std::string>& names, Done<void> done) = 0;
    // Lets go of files that are open. Those that are empty are deleted.
    virtual void close(const std::vector<std::string>& names) = 0;
    // Deletes files that are not open; one that is not there is fine.
    virtual void remove(const std::vector<std::string>& names, Done<void> done) = 0;
    // Makes a file of another's bytes. Neither is open. Errors: there is not enough room; nothing is left then.
    virtual void copy(const std::string& from, const std::string& to, Done<void> done) = 0;
    // Errors: it is larger, or cannot be read.
    virtual void read(const std::string& name, std::size_t most_bytes, Done<std::string> done) = 0;
};

// "chosen/7/Mill House.tapjob": a file from outside. Its own name is behind the last slash.
inline bool is_from_outside(std::string_view name) {
    return name.starts_with("chosen/");
}
inline std::string_view own_name(std::string_view name) {
    return name.substr(name.rfind('/') + 1);
}

}  // namespace tapwright
