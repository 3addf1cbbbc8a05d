// What every connection to SQLite needs here: its file systems, and a setting up for hostile content. Private to
// core/journal.
#pragma once

#include <string>

struct sqlite3;
struct sqlite3_file;
struct sqlite3_vfs;

namespace tapwright {

// SQLite takes "file:..." for an address and ":memory:" for no file at all. To us both are names of files.
std::string plain_path(const std::string& path);

// The file system of that name; "" is the usual one. Null where there is none.
sqlite3_vfs* find_vfs(const std::string& vfs);
// "" when the path cannot be made whole: it is too long, or leads through what is no folder.
std::string full_path(sqlite3_vfs* vfs, const std::string& path);
// Whether something is there. An empty file is nothing, as SQLite has it.
bool is_there(sqlite3_vfs* vfs, const std::string& path);

void harden(sqlite3* connection);
// The open file behind a connection; null where there is none.
sqlite3_file* file_of(sqlite3* connection);

}  // namespace tapwright
