// What lies at a path and beside it, looked at before SQLite may open anything there. Private to core/journal.
//
// SQLite believes what it finds beside a file. A -journal can name a "super-journal", which is then deleted, wherever
// it is; a -wal is read into the file whatever the file's header says. A job comes by mail from somebody else, and such
// a file can come with it. So types are asked of the system without following a link, and a -journal is read here
// first.
//
// This one file of core asks POSIX, which emscripten has too: SQLite's own calls follow links and wait at pipes. Where
// a file system holds nothing but what this program put there (core/journal/lone_files.h), nothing is looked at.
#pragma once

#include <string>

#include "core/base/result.h"

namespace tapwright {

// Whether there is a link at `path` itself, wherever it leads.
bool is_link(const char* path);

// `vfs`: the file system's name as Journal takes it; "" is the usual one.

// Refuses what the system does not let us look at, which may well be there: behind a folder that may not be entered,
// behind links that lead round in a circle, under a name that is too long.
Result<void> check_is_seen(const std::string& vfs, const std::string& path);

// Refuses what no job file can be: a folder, a device, a pipe. `file`: the whole path without links; nothing there is
// fine, SQLite speaks of that. `path`: as a person gave it.
Result<void> check_is_file(const std::string& vfs, const std::string& file, const std::string& path);

// Refuses what a job file never has beside it: a -wal or -shm of any kind, a -journal that is no ordinary file or names
// another file to be deleted. An ordinary -journal of an interrupted commit is fine.
Result<void> check_beside(const std::string& vfs, const std::string& file, const std::string& path);

// Refuses when anything is at `file`, or where SQLite would look for what belongs to it: links that lead nowhere too.
Result<void> check_is_free(const std::string& vfs, const std::string& file, const std::string& path);

}  // namespace tapwright
