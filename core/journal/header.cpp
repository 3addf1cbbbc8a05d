#include "core/journal/header.h"

#include <array>

#include "core/base/text.h"

namespace tapwright {
namespace {

using namespace std::string_view_literals;

// Files people take for a job. From memory of the formats' published first bytes.
struct Look {
    std::string_view start;
    Pattern sentence;
};
constexpr std::array looks{
    Look{"%PDF-"sv,
         Pattern("{file} is a PDF document, not a job file. Choose a job file (.tapjob); nothing was changed.")},
    Look{"\xff\xd8\xff"sv,
         Pattern("{file} is a JPEG picture, not a job file. Choose a job file (.tapjob); nothing was changed.")},
    Look{"\x89PNG"sv,
         Pattern("{file} is a PNG picture, not a job file. Choose a job file (.tapjob); nothing was changed.")},
    Look{"PK\x03\x04"sv, Pattern("{file} is a ZIP archive or an office document, not a job file. Choose a job file "
                                 "(.tapjob); nothing was changed.")},
    Look{"{"sv, Pattern("{file} is text, not a job file. Import JSON to make a job file of it; nothing was changed.")},
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
    const Code file = code(cited(path, 200));
    if (start.empty())
        return Refusal{Message("{file} is empty, so it is no job file. Restore it from a sealed copy or a backup.",
                               {{"file", file}})};
    if (!start.starts_with("SQLite format 3\0"sv)) {
        for (const Look& look : looks)
            if (start.starts_with(look.start)) return Refusal{Message(look.sentence, {{"file", file}})};
        return Refusal{
            Message("{file} is no job file, or its beginning is damaged. Choose a job file (.tapjob); nothing was "
                    "changed.",
                    {{"file", file}})};
    }
    if (start.size() < header_bytes)
        return Refusal{plural("{file} is cut short after {count} byte. Restore it from a sealed copy or a backup.",
                              "{file} is cut short after {count} bytes. Restore it from a sealed copy or a backup.",
                              static_cast<std::int64_t>(start.size()), {{"file", file}})};
    if (number_at(start, 68) != job_application_id)
        return Refusal{
            Message("{file} is another program's database. Choose a job file (.tapjob); nothing was changed.",
                    {{"file", file}})};
    const std::uint32_t version = number_at(start, 60);
    if (version > job_version)
        return Refusal{
            Message("{file} was made by a newer Tapwright: it has file version {found}, this program reads up to "
                    "{known}. Update Tapwright to open it; nothing was changed.",
                    {{"file", file}, {"found", version}, {"known", job_version}})};
    const bool is_plain = start[18] == 1 && start[19] == 1 && number_at(start, 56) == 1;
    if (version == 0 || page_size(start) == 0 || !is_plain)
        return Refusal{
            Message("{file} is damaged in its first 100 bytes, or another program altered it. Restore it from a "
                    "sealed copy or a backup.",
                    {{"file", file}})};
    return done();
}

Result<void> check_size(std::string_view start, std::uint64_t file_bytes, const std::string& path) {
    const std::uint64_t wanted = page_size(start) * number_at(start, 28);
    if (file_bytes >= wanted && file_bytes % page_size(start) == 0) return done();
    return Refusal{Message("{file} is cut short: {found} of {wanted} bytes. Restore it from a sealed copy or a backup.",
                           {{"file", code(cited(path, 200))}, {"found", file_bytes}, {"wanted", wanted}})};
}

}  // namespace tapwright
