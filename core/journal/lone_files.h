// File systems of SQLite in which nothing can lie but what this program put there: a browser's private one, a test's
// memory. There are no links, pipes or folders in them, and nobody else has a file open.
//
// Everywhere else a file can come with others beside it, and those are looked at before SQLite believes them
// (core/journal/beside.h).
#pragma once

#include <string>
#include <string_view>

namespace tapwright {

// Says so of a VFS. Call it before the first job of that VFS is opened; several threads must not call it at once.
void add_lone_vfs(const std::string& name);

bool is_lone_vfs(std::string_view name);

}  // namespace tapwright
