// SQLite's file system over files that are open already (handles.h). No locks: each handle is exclusive. No memory
// maps, no WAL. "Saved" means flushed: SQLite's sync is the handle's flush, and a failed one fails the commit.
#pragma once

#include "platform/web/store/handles.h"

struct sqlite3_vfs;

namespace tapwright {

// Its name for Journal and Session.
inline constexpr const char* open_files_vfs = "open-files";

// Makes the file system known to SQLite, and to core as one where nothing lies beside a job
// (core/journal/lone_files.h). `files` outlives every use of it. Call once. `is_usual`: SQLite asks this one for chance
// and time as well; a browser has no other.
void register_vfs(OpenFiles& files, bool is_usual);

// The file system that register_vfs() filled, for a SQLite that was compiled without any of its own (SQLITE_OS_OTHER):
// it wants one before it starts.
sqlite3_vfs* registered_vfs();

}  // namespace tapwright
