#include "platform/shell/made_files.h"

#include <filesystem>

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

constexpr SheetMedium media[] = {SheetMedium::pdf, SheetMedium::html};

// "Mill House owner.pdf" beside "Mill House.tapjob".
std::string beside(const Jobs& jobs, const std::string& ending) {
    fs::path path(jobs.path());
    path.replace_filename(path.stem().string() + ending);
    return path.string();
}

std::string ending_of(SheetMedium medium) {
    return medium == SheetMedium::pdf ? ".pdf" : ".html";
}

Result<Paths> sheets(Jobs& jobs, SheetReader reader, const Words& words) {
    SheetRequest request;
    request.reader = reader;
    request.words = words;
    Paths paths;
    for (const SheetMedium medium : media) {
        request.medium = medium;
        const Stamp stamp = make_stamp();  // one for each: ids come from it
        TAPWRIGHT_TAKE(sheet, make_sheet(*jobs.session(), request, stamp));
        const std::string path =
            beside(jobs, (reader == SheetReader::owner ? " owner" : " technician") + ending_of(medium));
        TAPWRIGHT_PASS(write_file(path, sheet.bytes));
        TAPWRIGHT_PASS(record_sheet(*jobs.session(), sheet, jobs.author(), stamp));
        paths.push_back(path);
    }
    return paths;
}

Result<Paths> labels(Jobs& jobs, const Words& words) {
    Paths paths;
    for (const SheetMedium medium : media) {
        TAPWRIGHT_TAKE(bytes, make_labels(*jobs.session(), medium, words, make_stamp()));
        paths.push_back(beside(jobs, " labels" + ending_of(medium)));
        TAPWRIGHT_PASS(write_file(paths.back(), bytes));
    }
    return paths;
}

// The same with the day, and a number where that is taken: what stands there may be what the job was made from.
std::string free_beside(const Jobs& jobs, const std::string& what, const std::string& extension) {
    const std::string day = what + make_stamp().date();
    std::string path = beside(jobs, day + extension);
    for (int i = 2; is_taken(path); ++i) path = beside(jobs, day + " " + std::to_string(i) + extension);
    return path;
}

Result<Paths> sealed_copy(const Jobs& jobs) {
    const std::string path = free_beside(jobs, " sealed ", ".tapjob");
    TAPWRIGHT_PASS(jobs.session()->seal(path, file_port()));
    return Paths{path};
}

Result<Paths> json(const Jobs& jobs) {
    const std::string path = free_beside(jobs, " ", ".json");
    FilesTogether files;
    TAPWRIGHT_PASS(files.add(path, write_job(jobs.session()->job())));
    TAPWRIGHT_PASS(export_photos(*jobs.session(), path, files));
    TAPWRIGHT_PASS(files.keep());
    return Paths{path};
}

Result<Paths> csv(const Jobs& jobs) {
    const fs::path folder = free_beside(jobs, " tables ", "");
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
