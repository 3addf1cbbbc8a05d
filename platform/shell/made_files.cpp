#include "platform/shell/made_files.h"

#include <algorithm>
#include <filesystem>
#include <span>

#include "core/exchange/job_csv.h"
#include "core/exchange/job_json.h"
#include "platform/handover/handover.h"
#include "platform/handover/photo_files.h"
#include "platform/system/files.h"
#include "platform/system/parts.h"
#include "platform/system/stamps.h"

namespace tapwright::desktop {
namespace {

namespace fs = std::filesystem;
using Paths = std::vector<std::string>;

// "Mill House owner 2026-03-02" beside "Mill House.tapjob", with a number where one of the endings is taken: what
// stands there may have been handed over, or be what the job was made from.
std::string free_beside(const Jobs& jobs, const std::string& what, std::span<const char* const> endings) {
    fs::path path(jobs.path());
    path.replace_filename(path.stem().string() + what + make_stamp().date());
    const auto is_free = [&](const std::string& name) {
        return std::none_of(endings.begin(), endings.end(),
                            [&](const char* ending) { return is_taken(name + ending); });
    };
    std::string name = path.string();
    for (int i = 2; !is_free(name); ++i) name = path.string() + " " + std::to_string(i);
    return name;
}
std::string free_file_beside(const Jobs& jobs, const std::string& what, const char* ending) {
    return free_beside(jobs, what, std::span(&ending, 1)) + ending;
}

// A sheet or labels as PDF and as a page.
struct Medium {
    SheetMedium medium;
    const char* ending;
};
constexpr Medium media[] = {{SheetMedium::pdf, ".pdf"}, {SheetMedium::html, ".html"}};
constexpr const char* endings_of_media[] = {media[0].ending, media[1].ending};

Result<Paths> sheets(Jobs& jobs, SheetReader reader, const Words& words) {
    SheetRequest request;
    request.reader = reader;
    request.words = words;
    const std::string name =
        free_beside(jobs, reader == SheetReader::owner ? " owner " : " technician ", endings_of_media);
    Paths paths;
    for (const Medium& each : media) {
        request.medium = each.medium;
        const Stamp stamp = make_stamp();  // one for each: ids come from it
        TAPWRIGHT_TAKE(sheet, make_sheet(*jobs.session(), request, stamp));
        paths.push_back(name + each.ending);
        TAPWRIGHT_PASS(write_file(paths.back(), sheet.bytes));
        if (const auto recorded = record_sheet(*jobs.session(), sheet, jobs.author(), stamp); !recorded)
            return Refusal{Message("{file} was written, but the job does not record it. {why}",
                                   {{"file", code(paths.back())}, {"why", recorded.refusal().message}})};
    }
    return paths;
}

Result<Paths> labels(Jobs& jobs, const Words& words) {
    const std::string name = free_beside(jobs, " labels ", endings_of_media);
    Paths paths;
    for (const Medium& each : media) {
        TAPWRIGHT_TAKE(bytes, make_labels(*jobs.session(), each.medium, words, make_stamp()));
        paths.push_back(name + each.ending);
        TAPWRIGHT_PASS(write_file(paths.back(), bytes));
    }
    return paths;
}

Result<Paths> sealed_copy(const Jobs& jobs) {
    const std::string path = free_file_beside(jobs, " sealed ", ".tapjob");
    TAPWRIGHT_PASS(jobs.session()->seal(path, file_port()));
    return Paths{path};
}

Result<Paths> json(const Jobs& jobs) {
    const std::string path = free_file_beside(jobs, " ", ".json");
    FilesTogether files;
    TAPWRIGHT_PASS(files.add(path, write_job(jobs.session()->job())));
    TAPWRIGHT_PASS(export_photos(*jobs.session(), path, files));
    TAPWRIGHT_PASS(files.keep());
    return Paths{path};
}

Result<Paths> csv(const Jobs& jobs) {
    const fs::path folder = free_file_beside(jobs, " tables ", "");
    FilesTogether files;
    TAPWRIGHT_PASS(files.folder(folder.string(), FilesTogether::Folder::own));
    Paths paths;
    for (const CsvFile& file : write_csv(jobs.session()->job())) {
        paths.push_back((folder / file.name).string());
        TAPWRIGHT_PASS(files.add(paths.back(), file.text));
    }
    TAPWRIGHT_PASS(files.keep());
    return paths;
}

}  // namespace

Result<Paths> make_files(Jobs& jobs, ui::HandoverFile which, const Words& words) {
    using ui::HandoverFile;
    if (!jobs.session()) return Refusal{Message("No job is open. Open one, then make its sheet.")};
    switch (which) {
        case HandoverFile::owner_sheet:
            return sheets(jobs, SheetReader::owner, words);
        case HandoverFile::technician_sheet:
            return sheets(jobs, SheetReader::technician, words);
        case HandoverFile::labels:
            return labels(jobs, words);
        case HandoverFile::sealed_copy:
            return sealed_copy(jobs);
        case HandoverFile::json:
            return json(jobs);
        case HandoverFile::csv:
            break;
    }
    return csv(jobs);
}

}  // namespace tapwright::desktop
