#include "core/journal/header.h"

#include <array>

#include "core/base/text.h"

namespace tapwright {
namespace {

using namespace std::string_view_literals;

// Files people take for a job. From memory of the formats' published first bytes.
struct Look {
    std::string_view start;
    std::string_view name;
};
constexpr std::array looks{
    Look{"%PDF-"sv, "a PDF document"},
    Look{"\xff\xd8\xff"sv, "a JPEG picture"},
    Look{"\x89PNG"sv, "a PNG picture"},
    Look{"PK\x03\x04"sv, "a ZIP archive or an office document"},
    Look{"{"sv, "text; JSON comes in with import, into a job file of its own"},
};

std::uint32_t number_at(std::string_view bytes, std::size_t at) {
    std::uint32_t number = 0;
    for (std::size_t i = 0; i < 4; ++i) number = number << 8 | static_cast<std::uint8_t>(bytes[at + i]);
    return number;
}

// 512 to 65536, or 0 for what no SQLite database has.
std::uint64_t page_size(std::string_view start) {
    const std::uint32_t size = number_at(start, 14) & 0xffff;
    if (size == 1) return 65536;
    return size >= 512 && (size & (size - 1)) == 0 ? size : 0;
}

}  // namespace

bool is_job_header(std::string_view start) {
    return start.size() >= header_bytes && start.starts_with("SQLite format 3\0"sv) &&
           number_at(start, 68) == job_application_id;
}

Result<void> check_header(std::string_view start, const std::string& path) {
    const std::string name = "'" + cited(path, 200) + "'";
    const std::string wanted = "; give the path of a job file (.tapjob), nothing was changed.";
    if (start.empty())
        return Refusal{name + " is empty and so no job file: restore it from a sealed copy or a backup."};
    if (!start.starts_with("SQLite format 3\0"sv)) {
        for (const Look& look : looks)
            if (start.starts_with(look.start))
                return Refusal{name + " is no job file but " + std::string(look.name) + wanted};
        return Refusal{name + " is no job file, or its beginning is damaged" + wanted};
    }
    if (start.size() < header_bytes)
        return Refusal{name + " is cut short, after " + counted(start.size(), "byte") +
                       ": restore it from a sealed copy or a backup."};
    if (number_at(start, 68) != job_application_id)
        return Refusal{name + " is a database of another program, no job file" + wanted};
    const std::uint32_t version = number_at(start, 60);
    if (version > job_version)
        return Refusal{name + " was made by a newer Tapwright (file version " + std::to_string(version) +
                       ", this one reads " + std::to_string(job_version) +
                       "); update Tapwright to open it. Nothing was changed."};
    const bool is_plain = start[18] == 1 && start[19] == 1 && number_at(start, 56) == 1;
    if (version == 0 || page_size(start) == 0 || !is_plain)
        return Refusal{name +
                       " is damaged or was altered by another program, in its first 100 bytes: restore it from a "
                       "sealed copy or a backup."};
    return done();
}

Result<void> check_size(std::string_view start, std::uint64_t file_bytes, const std::string& path) {
    const std::uint64_t wanted = page_size(start) * number_at(start, 28);
    if (file_bytes >= wanted && file_bytes % page_size(start) == 0) return done();
    return Refusal{"'" + cited(path, 200) + "' is cut short: it has " + std::to_string(file_bytes) + " of " +
                   std::to_string(wanted) + " bytes. Restore it from a sealed copy or a backup."};
}

}  // namespace tapwright
