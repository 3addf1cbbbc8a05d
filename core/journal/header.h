// What the first 100 bytes of a file say, before SQLite is let near the rest. Source: SQLite's file format, "The
// Database Header": https://www.sqlite.org/fileformat2.html#the_database_header
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "core/base/result.h"

namespace tapwright {

inline constexpr std::size_t header_bytes = 100;
inline constexpr std::uint32_t job_application_id = 0x54415057;  // "TAPW"
inline constexpr std::uint32_t job_version = 1;

// Whether a file that begins so calls itself a job file, of whatever version and in whatever state.
bool is_job_header(std::string_view start);

// `start`: the file's first bytes, 100 or all there are. Refuses what is no job file of this version, in a sentence
// that names `path`. Says nothing of the rest of the file.
Result<void> check_header(std::string_view start, const std::string& path);

// Refuses a file that has fewer bytes than its header says. Requires: check_header(start, path).
Result<void> check_size(std::string_view start, std::uint64_t file_bytes, const std::string& path);

}  // namespace tapwright
