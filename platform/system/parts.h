// Files on their way to becoming what a person asked for: written under a name of their own in the same folder, and
// given the real name once they are whole. So a name never stands for half a file, and what a killed program leaves is
// in nobody's way.
//
// A part is called .tapwright-part-MACHINE-PROCESS-NUMBER. Whoever makes the next one in that folder takes away those
// of this machine and person whose process is no more, and nothing else.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

// The folder that holds a path; "." where the path names none.
std::string folder_of(const std::string& path);

// Whether anything has that name, a link that leads nowhere included.
bool is_taken(const std::string& path);

// A name for a part in the folder of `path` that nothing has, however long the name at the end of `path` is. Takes away
// what killed programs left there. "" where there is none to be had.
std::string part_beside(const std::string& path);

// Makes a new empty file under a part's name and opens it for writing. Returns: its descriptor, or -1 with errno.
int open_part(const std::string& path, std::string& part);

// Takes a file away at its end, whatever ended it: a refusal, or that memory ran out. Needs no memory, not for its
// beginning either. `path` outlives it.
class TakenAway {
public:
    explicit TakenAway(const std::string& path) : path_(&path) {}
    TakenAway(const TakenAway&) = delete;
    TakenAway& operator=(const TakenAway&) = delete;
    ~TakenAway();
    void keep() { path_ = nullptr; }

private:
    const std::string* path_;
};

// Moves a file to a name that nothing has. Returns: false, with errno, when it has not been done.
bool move_without_replacing(const std::string& from, const std::string& to);

// Makes a job file, whole or not at all: `make` fills the part it is given and closes it; only then has `path` a file,
// and it was on the disk before. Refuses a path where something is, or where the job would meet what is not its own.
Result<void> make_job_file(const std::string& path, const std::function<Result<void>(const std::string& part)>& make);

// Several files that are wanted all or not at all: an export with its photos. Each is written and synced under a part's
// name; keep() then gives all of them their names, which takes no more room. Without keep() nothing is left, folders
// made for them included.
class FilesTogether {
public:
    FilesTogether() = default;
    FilesTogether(const FilesTogether&) = delete;
    FilesTogether& operator=(const FilesTogether&) = delete;
    ~FilesTogether();

    // A folder for some of them, made where it is missing. `own`: one that nobody named, where a link is refused, as it
    // may lead anywhere.
    enum class Folder { named, own };
    Result<void> folder(const std::string& path, Folder whose);
    // Errors: those of write_file().
    Result<void> add(const std::string& path, std::string_view bytes);
    Result<void> keep();

private:
    struct Written {
        std::string part;
        std::string path;
        bool was_taken;
        bool is_placed = false;
    };
    std::vector<Written> written_;
    std::vector<std::string> folders_;
};

}  // namespace tapwright
