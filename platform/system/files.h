// Files as a person means them: read whole, or written whole or not at all.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/journal/journal.h"

namespace tapwright {

// The bytes of a file. Refuses what is missing, a folder, a device or a pipe (without waiting for it), not readable, a
// job file (only its journal reads that), or above `most` bytes, in a sentence.
Result<std::string> read_file(const std::string& path, std::size_t most);

// The bytes of an ordinary file in a folder or in folders of it, no link on the way from there followed. Returns:
// nothing when it is not there. Refuses, without waiting for it, a link, a pipe, a device, and what read_file()
// refuses. Requires: `place` is relative and has no "..".
Result<std::optional<std::string>> read_inside(const std::string& folder, const std::string& place, std::size_t most);

// Writes beside the target first, syncs, and then puts it in the target's place. So a full disk leaves the old file as
// it was and nothing beside it; a crash leaves the old file or the new one, and perhaps a part beside
// it, which the next writing there takes away (parts.h). Refuses to stand in the place of a job file, whose content can
// be had from nowhere else, of a file that may not be read and so may be one, and of what is no file: a folder, a
// device, a pipe.
Result<void> write_file(const std::string& path, std::string_view bytes);

// Whether write_file() could put a file in the place of what is at `path`, if anything. Refuses as it does.
Result<void> check_place(const std::string& path);

// The two halves of that, for who writes several: the part, written and synced, whose name is in `part` before anything
// of it is on the disk; and its name given to it.
Result<void> write_part(const std::string& path, std::string_view bytes, std::string& part);
Result<void> place_part(const std::string& part, const std::string& path);
// Puts on the disk what names the folder of `path` holds.
bool sync_folder_of(const std::string& path);

// Makes a folder and those above it; nothing to do when it is there.
Result<void> make_folder(const std::string& path);

bool file_exists(const std::string& path);

// What Journal::seal needs.
FilePort file_port();

}  // namespace tapwright
