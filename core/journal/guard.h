// A file system for SQLite that lets it touch a job file and its rollback file, and nothing else. Private to
// core/journal.
//
// beside.h refuses what would lead SQLite elsewhere before it gets there. This is the second line: should something be
// put there after the look, SQLite still cannot open a super-journal or a -wal, delete any other kind of file, or write
// through a link where it is to make a new file.
#pragma once

#include <string>

struct sqlite3_vfs;

namespace tapwright {

// The guard around the file system of that name, "" the usual one; its name is for sqlite3_open_v2() and stays valid.
// Null where there is no such file system. Requires: file systems other than the usual one, which tests bring, are
// asked for by one thread at a time.
sqlite3_vfs* guarded(const std::string& vfs);

}  // namespace tapwright
