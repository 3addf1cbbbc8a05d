// Files as a person means them: read whole, or written whole or not at all.
#pragma once

#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/journal/journal.h"

namespace tapwright {

// The bytes of a file. Refuses what is missing, a folder, not readable, or above `most` bytes, in a sentence.
Result<std::string> read_file(const std::string& path, std::size_t most);

// Refuses to stand in the place of a job file: what is in that can be had from nowhere else.
// Writes beside the target first, syncs, and then puts it in the target's place: a full disk or a crash leaves the old
// file as it was and no rest behind.
Result<void> write_file(const std::string& path, std::string_view bytes);

// Makes a folder and those above it; nothing to do when it is there.
Result<void> make_folder(const std::string& path);

bool file_exists(const std::string& path);

// What Journal::seal needs.
FilePort file_port();

}  // namespace tapwright
