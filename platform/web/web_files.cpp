#include "platform/web/web_files.h"

#include "core/exchange/job_csv.h"
#include "core/exchange/job_json.h"
#include "core/html/html.h"
#include "platform/photos/formats.h"
#include "platform/sheets/sheets.h"
#include "platform/system/stamps.h"
#include "platform/web/page.h"
#include "platform/web/page_folder.h"

namespace tapwright::web {
namespace {

constexpr const char* page_type = "text/html";
constexpr const char* json_type = "application/json";
constexpr const char* csv_type = "text/csv";
constexpr const char* job_type = "application/octet-stream";

// The browser made the copy small already, and decodes nothing while a page waits.
std::optional<document::Picture> as_it_is(const std::string& copy) {
    const std::optional<photos::Header> header = photos::jpeg_header(copy);
    if (!header) return std::nullopt;
    return document::Picture{copy, static_cast<int>(header->width), static_cast<int>(header->height), std::nullopt};
}

const char* word_of(ui::FileUse use) {
    switch (use) {
        case ui::FileUse::open:
            return "open";
        case ui::FileUse::print:
            return "print";
        case ui::FileUse::share:
            return "share";
        case ui::FileUse::save:
        case ui::FileUse::show_folder:
            break;
    }
    return "save";
}

}  // namespace

Result<std::vector<ui::MadeFile>> WebFiles::make(ui::HandoverFile which, const Words& words) {
    using ui::HandoverFile;
    if (!jobs_.session()) return Refusal{Message("No job is open. Open one, then make its sheet.")};
    for (const auto& [name, given] : given_) tell_page("forget", static_cast<double>(given.lent));
    given_.clear();
    Session& session = *jobs_.session();
    std::vector<ui::MadeFile> made;
    switch (which) {
        case HandoverFile::owner_sheet:
        case HandoverFile::technician_sheet: {
            const bool is_owners = which == HandoverFile::owner_sheet;
            TAPWRIGHT_TAKE(bytes, sheet(is_owners ? SheetReader::owner : SheetReader::technician, words));
            made.push_back(add(named(is_owners ? " owner.html" : " technician.html"), page_type, bytes));
            break;
        }
        case HandoverFile::labels:
            made.push_back(add(named(" labels.html"), page_type, html_page(labels_of(session, words, make_stamp()))));
            break;
        case HandoverFile::sealed_copy: {
            TAPWRIGHT_TAKE(bytes, jobs_.sealed());
            made.push_back(add(dated(" sealed ", ".tapjob"), job_type, bytes, true));
            break;
        }
        case HandoverFile::json:
            // Photos are not in it: with any, only a sealed copy holds the whole job.
            made.push_back(
                add(dated(" ", ".json"), json_type, write_job(session.job()), session.job().count(Kind::photo) == 0));
            break;
        case HandoverFile::csv:
            for (const CsvFile& file : write_csv(session.job()))
                made.push_back(add(named(" " + file.name), csv_type, file.text));
            break;
    }
    return made;
}

Result<std::string> WebFiles::sheet(SheetReader reader, const Words& words) {
    SheetChoice choice;
    choice.reader = reader;
    choice.words = words;
    const Stamp stamp = make_stamp();
    TAPWRIGHT_TAKE(made, render_sheet(*jobs_.session(), choice, as_it_is, render_html, stamp));
    TAPWRIGHT_PASS(record_sheet(*jobs_.session(), made, jobs_.author(), stamp));
    return std::move(made.bytes);
}

ui::MadeFile WebFiles::add(const std::string& name, const char* type, const std::string& bytes, bool is_copy) {
    given_[name] = {lend_bytes(bytes), type, jobs_.file(), is_copy ? jobs_.session()->batch_count() : 0};
    return {name, name, {}};
}

// "Mill House owner.html".
std::string WebFiles::named(const std::string& ending) const {
    const std::string& file = jobs_.file();
    return file.substr(0, file.rfind('.')) + ending;
}

std::string WebFiles::dated(const std::string& what, const std::string& ending) const {
    return named(what + make_stamp().date() + ending);
}

void WebFiles::save_types(const std::string& name, ui::Ports::Done<void> done) {
    given_[name] = {lend_bytes(jobs_.types_text()), json_type, {}, 0};
    use(ui::FileUse::save, {name}, std::move(done));
}

void WebFiles::use(ui::FileUse use, const std::vector<std::string>& files, ui::Ports::Done<void> done) {
    List wanted;
    Given given;  // what is made together is of one job as it stood then
    for (const std::string& file : files) {
        const auto found = given_.find(file);
        if (found == given_.end()) return done(Refusal{Message("This file is no longer at hand. Make it once more.")});
        given = found->second;
        wanted.emplace_back(Map{{"name", file}, {"type", given.type}, {"lent", static_cast<double>(given.lent)}});
    }
    const Value question = Map{{"use", word_of(use)}, {"files", std::move(wanted)}};
    ask_page("use", question, [this, given, use, done = std::move(done)](const Answer& answer) {
        if (answer.trouble == "AbortError") return done({});  // the person changed their mind
        if (!answer.trouble.empty()) return done(refused_by_browser(answer.trouble));
        const bool left_the_device = use == ui::FileUse::share || use == ui::FileUse::save;
        if (left_the_device && given.changes > 0) jobs_.given_out(given.job, given.changes);
        done({});
    });
}

}  // namespace tapwright::web
