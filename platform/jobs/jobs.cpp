#include "platform/jobs/jobs.h"

#include <cstdlib>
#include <filesystem>
#include <new>

#include "core/base/text.h"
#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "platform/jobs/file_name.h"
#include "platform/jobs/person.h"
#include "platform/system/files.h"
#include "platform/system/parts.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_json_bytes = std::size_t{256} << 20;
constexpr std::size_t most_recent = 12;

std::string absolute(const std::string& path) {
    std::error_code error;
    const fs::path whole = fs::absolute(path, error);
    return error ? path : whole.lexically_normal().string();
}

Result<void> make(const std::string& path, const Command& content, const Author& author, const Stamp& stamp) {
    return make_job_file(path, [&](const std::string& part) -> Result<void> {
        const Result<Session> made = Session::create(part, content, author, stamp);
        return made ? done() : Result<void>(made.refusal());
    });
}

}  // namespace

Jobs::Jobs() {
    Result<Settings> loaded = load_settings();
    if (loaded)
        settings_ = std::move(*loaded);
    else
        settings_trouble_ = loaded.refusal().message;
    Result<Library> library = Library::load();
    if (library)
        library_ = std::move(*library);
    else
        library_trouble_ = library.refusal().message;
}

Jobs::~Jobs() {
    try {
        keep_library();
    } catch (const std::bad_alloc&) {
        return;  // they are kept when the job is open again
    }
}

void Jobs::set_hooks(Hooks hooks) {
    hooks_ = std::move(hooks);
    if (session_) hooks_.show(session_.get());
    if (!settings_trouble_.empty()) hooks_.remark(settings_trouble_);
    if (!library_trouble_.empty()) hooks_.remark(library_trouble_);
}

// ---- the open job ----------------------------------------------------------------------------------------

Result<void> Jobs::open(const std::string& path) {
    std::error_code error;
    if (is_open() && fs::equivalent(path, path_, error)) return done();
    return take(path, Session::open(path, Access::write));
}

Result<void> Jobs::create(const Start& start, const Stamp& stamp) {
    Change change{ChangeOp::set, Kind::job, job_id(), {{"name", start.name}}};
    const Result<Value> volts = value_from_text(*find_field(Kind::job, "line_v"), start.line_v);
    if (!volts) return placed(Message("Line voltage"), volts.refusal());
    if (!volts->is_null()) change.fields.emplace_back("line_v", *volts);
    const Author author{start.person.empty() ? settings_.person : start.person, {}};
    const std::string path = free_path(file_name_of(start.name));
    const Command command{.changes = {change}, .fill_in = true, .place = {}};
    TAPWRIGHT_PASS(make(path, command, author, stamp));
    settings_.person = author.person;
    settings_.line_v = start.line_v;
    return take(path, Session::open(path, Access::write));
}

Result<void> Jobs::import(const std::string& path, const Stamp& stamp) {
    TAPWRIGHT_TAKE(text, read_file(path, most_json_bytes));
    TAPWRIGHT_TAKE(job, read_job(text, path));
    const auto place = [&](std::size_t change, std::string_view field) { return job.place(change, field); };
    const std::string made = free_path(file_name_of(fs::path(path).stem().string()));
    const Command command{.changes = job.changes, .fill_in = false, .place = place};
    TAPWRIGHT_PASS(make(made, command, {settings_.person, {}}, stamp));
    return take(made, Session::open(made, Access::write));
}

Result<void> Jobs::take(const std::string& path, Result<Session> session) {
    if (!session) return session.refusal();
    keep_library();
    hooks_.show(nullptr);
    session_ = std::make_unique<Session>(std::move(*session));
    as_opened_ = session_->job();
    keep_library();
    path_ = absolute(path);
    std::erase(settings_.recent, path_);
    settings_.recent.insert(settings_.recent.begin(), path_);
    if (settings_.recent.size() > most_recent) settings_.recent.resize(most_recent);
    hooks_.show(session_.get());
    keep_settings();
    if (!session_->can_write())
        hooks_.remark(
            Message("This job can only be read, so nothing in it can be changed. To work on it, copy its file "
                    "to where you may write."));
    return done();
}

std::string Jobs::free_path(const std::string& name) const {
    const char* home = std::getenv("HOME");
    fs::path folder = home && *home ? home : ".";
    if (!settings_.recent.empty())
        if (const fs::path last = fs::path(settings_.recent.front()).parent_path(); file_exists(last.string()))
            folder = last;
    std::string path = (folder / (name + ".tapjob")).string();
    for (int i = 2; is_taken(path); ++i) path = (folder / (name + " " + std::to_string(i) + ".tapjob")).string();
    return path;
}

std::vector<Jobs::Recent> Jobs::recent() const {
    std::vector<Recent> jobs;
    for (const std::string& path : settings_.recent) {
        const fs::path file(path);
        if (file_exists(path))
            jobs.push_back({path, file.stem().string(), file.parent_path().string(), is_open() && path == path_});
    }
    return jobs;
}

// ---- the person ------------------------------------------------------------------------------------------

Author Jobs::author() const {
    return author_of(settings_, path_, session_.get());
}

void Jobs::set_visit(const Id& visit) {
    if (!session_) return;
    set_visit_of(settings_, path_, visit);
    keep_settings();
}

void Jobs::set_person(const std::string& person) {
    settings_.person = person;
    keep_settings();
}

void Jobs::set_look(const std::string& theme, double text_scale, const std::string& language) {
    set_look_of(settings_, theme, text_scale, language);
    keep_settings();
}

void Jobs::keep_library() {
    if (!session_ || library_.take(session_->job(), as_opened_) == 0 || !library_trouble_.empty()) return;
    if (const Result<void> kept = library_.save(); !kept) hooks_.remark(kept.refusal().message);
}

Result<int> Jobs::import_types(const std::string& path) {
    TAPWRIGHT_TAKE(taken, library_.import(path));
    if (taken > 0 && library_trouble_.empty()) TAPWRIGHT_PASS(library_.save());
    return taken;
}

Result<void> Jobs::export_types(const std::string& path) {
    keep_library();
    return library_.write(path);
}

void Jobs::keep_settings() {
    if (!settings_trouble_.empty()) return;
    if (const Result<void> kept = save_settings(settings_); !kept) hooks_.remark(kept.refusal().message);
}

}  // namespace tapwright
