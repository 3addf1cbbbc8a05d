#include "platform/web/store/job_store.h"

#include <algorithm>

#include "core/base/sort.h"
#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "platform/jobs/file_name.h"
#include "platform/jobs/person.h"
#include "platform/web/store/vfs.h"

namespace tapwright {
namespace {

constexpr std::size_t most_json_bytes = std::size_t{256} << 20;
constexpr std::size_t most_library_bytes = std::size_t{64} << 20;
constexpr std::string_view ending = ".tapjob";

// A job's file and the one SQLite rolls an interrupted change back with.
std::vector<std::string> files_of(const std::string& job) {
    return {job, job + "-journal"};
}

std::string without_ending(std::string_view name) {
    return std::string(name.ends_with(ending) ? name.substr(0, name.size() - ending.size()) : name);
}

std::string stem_of(std::string_view name) {
    const std::size_t dot = name.rfind('.');
    return std::string(dot == std::string_view::npos ? name : name.substr(0, dot));
}

}  // namespace

JobStore::JobStore(Folder& folder, OpenFiles& files)
    : folder_(folder), files_(files), kept_settings_(files, "settings"), kept_library_(files, "library") {}

// ---- the start -------------------------------------------------------------------------------------------

void JobStore::start(Done<void> done) {
    std::vector<std::string> names;
    for (const KeptText* kept : {&kept_settings_, &kept_library_})
        names.insert(names.end(), kept->names().begin(), kept->names().end());
    folder_.open(names, [this, done = std::move(done)](const Result<void>& opened) {
        if (!opened) return done(opened);
        load_kept();
        folder_.list([this, done](Result<std::vector<FolderEntry>> listed) {
            if (!listed) return done(listed.refusal());
            for (FolderEntry& entry : *listed)
                if (entry.name.ends_with(ending) && entry.bytes > 0) entries_.push_back(std::move(entry));
            const std::vector<Stored> jobs = stored();
            if (settings_.recent.empty() || jobs.empty() || jobs.front().file != settings_.recent.front())
                return done({});
            open(jobs.front().file, [this, done](const Result<void>& last) {
                if (!last) hooks_.remark(last.refusal().message);
                done({});
            });
        });
    });
}

void JobStore::load_kept() {
    if (const std::string text = kept_settings_.load(); !text.empty()) {
        Result<Settings> settings = settings_from(text, "settings");
        if (settings) settings_ = std::move(*settings);
    }
    if (const std::string text = kept_library_.load(); !text.empty())
        if (const Result<int> taken = library_.import_text(text, "library"); !taken)
            hooks_.remark(taken.refusal().message);
}

// ---- the open job ----------------------------------------------------------------------------------------

void JobStore::open(const std::string& file, const Done<void>& done) {
    if (is_from_outside(file)) return bring_in(file, done);
    if (is_open(file)) return done({});
    if (session_ && file == file_) leave();  // closed after an error: the browser still has its files open
    folder_.open(files_of(file), [this, file, done](const Result<void>& opened) {
        done(opened ? take(file, Session::open(file, Access::write, open_files_vfs)) : opened);
    });
}

void JobStore::bring_in(const std::string& file, const Done<void>& done) {
    const std::string name = free_name(file_name_of(without_ending(own_name(file))));
    folder_.copy(file, name, [this, name, done](const Result<void>& copied) {
        if (!copied) return done(copied);
        open(name, [this, name, done](const Result<void>& opened) {
            if (opened) given_out(name, session_->batch_count());  // it came from a copy
            if (opened) return done(opened);
            folder_.remove(files_of(name), [done, opened](const Result<void>&) { done(opened); });
        });
    });
}

void JobStore::create(const Start& start, const Stamp& stamp, const Done<void>& done) {
    Change change{ChangeOp::set, Kind::job, job_id(), {{"name", start.name}}};
    const Result<Value> volts = value_from_text(*find_field(Kind::job, "line_v"), start.line_v);
    if (!volts) return done(placed(Message("Line voltage"), volts.refusal()));
    if (!volts->is_null()) change.fields.emplace_back("line_v", *volts);
    const Author author{start.person.empty() ? settings_.person : start.person, {}};
    const Command content{.changes = {change}, .fill_in = true, .place = {}};
    make(start.name, content, author, stamp, [this, start, author, done](const Result<void>& made) {
        if (made) {
            settings_.person = author.person;
            settings_.line_v = start.line_v;
            keep_settings();
        }
        done(made);
    });
}

void JobStore::import(const std::string& file, const Stamp& stamp, const Done<void>& done) {
    folder_.read(file, most_json_bytes, [this, file, stamp, done](const Result<std::string>& text) {
        if (!text) return done(text.refusal());
        import_text(*text, std::string(own_name(file)), stamp, done);
    });
}

void JobStore::import_text(const std::string& text, const std::string& name, const Stamp& stamp,
                           const Done<void>& done) {
    const Result<JobText> job = read_job(text, name);
    if (!job) return done(job.refusal());
    const auto place = [job = *job](std::size_t change, std::string_view field) { return job.place(change, field); };
    const Command content{.changes = job->changes, .fill_in = false, .place = place};
    make(stem_of(name), content, {settings_.person, {}}, stamp, done);
}

void JobStore::make(const std::string& name, const Command& content, const Author& author, const Stamp& stamp,
                    const Done<void>& done) {
    std::string file = free_name(file_name_of(name));
    const std::vector<std::string> files = files_of(file);
    const auto after_opening = [this, file = std::move(file), content = content, author = author, stamp = stamp,
                                done = done](const Result<void>& opened) {
        done(opened ? take(file, Session::create(file, content, author, stamp, open_files_vfs)) : opened);
    };
    folder_.open(files, after_opening);
}

Result<void> JobStore::take(const std::string& file, Result<Session> session) {
    if (!session) {
        folder_.close(files_of(file));
        return session.refusal();
    }
    leave();
    session_ = std::make_unique<Session>(std::move(*session));
    as_opened_ = session_->job();
    file_ = file;
    add_entry(file);
    keep_library();
    std::erase(settings_.recent, file);
    settings_.recent.insert(settings_.recent.begin(), file);
    hooks_.show(session_.get());
    keep_settings();
    return done();
}

// Closes the open job.
void JobStore::leave() {
    if (!session_) return;
    note_changes();
    keep_library();
    hooks_.show(nullptr);
    session_.reset();
    folder_.close(files_of(file_));
    file_.clear();
}

void JobStore::add_entry(const std::string& file) {
    const auto is_it = [&](const FolderEntry& entry) { return entry.name == file; };
    if (std::none_of(entries_.begin(), entries_.end(), is_it)) entries_.push_back({file, 1, 0});
}

void JobStore::duplicate(const std::string& file, const Done<void>& done) {
    const std::string copy = free_name(file_name_of(without_ending(file)));
    const auto copied = [this, file, copy, done](const Result<void>& made) {
        if (made) {
            add_entry(copy);
            settings_.copied[copy] = {file == file_ ? session_->batch_count() : settings_.copied[file].changes, 0};
            keep_settings();
        }
        done(made);
    };
    if (file != file_) return folder_.copy(file, copy, copied);
    const Result<std::string> bytes = sealed();
    if (!bytes) return done(bytes.refusal());
    folder_.open({copy}, [this, copy, bytes = *bytes, copied](const Result<void>& opened) {
        if (!opened) return copied(opened);
        Handle& handle = *files_.find(copy);
        const bool is_written = write_whole(handle, bytes);
        if (!is_written) handle.truncate(0);  // an empty file goes when it is closed
        folder_.close({copy});
        copied(is_written
                   ? Result<void>()
                   : Refusal{Message("There is no room for a second copy. Export jobs you no longer need here and "
                                     "delete them.")});
    });
}

void JobStore::remove(const std::string& file, const Done<void>& done) {
    if (file == file_) leave();
    folder_.remove(files_of(file), [this, file, done](const Result<void>& removed) {
        if (removed) {
            std::erase_if(entries_, [&](const FolderEntry& entry) { return entry.name == file; });
            std::erase(settings_.recent, file);
            settings_.visits.erase(file);
            settings_.copied.erase(file);
            keep_settings();
        }
        done(removed);
    });
}

// ---- copies out of the device ----------------------------------------------------------------------------

Result<std::string> JobStore::sealed() {
    static constexpr const char* part_name = "sealed.part";
    const std::string part = part_name, copy = "sealed";
    for (const std::string& name : {part, part + "-journal", copy, copy + "-journal"})
        files_.add(name, std::make_unique<MemoryHandle>());
    const FilePort port{
        [&](const std::string& from, const std::string& to) { return files_.rename(from, to), true; },
        [](const std::string&) { return true; },
        [&](const std::string& name) { return files_.close(name), true; },
        [&](const std::string& name) { return files_.exists(name); },
        [](const std::string&) { return part_name; },
    };
    const Result<Sealed> made = session_->seal(copy, port);
    std::string bytes;
    const bool is_read = made.ok() && read_whole(*files_.find(copy), bytes);
    for (const std::string& name : {part, part + "-journal", copy, copy + "-journal"}) files_.close(name);
    if (!made) return made.refusal();
    TAPWRIGHT_ENSURE(is_read);  // it is in memory
    return bytes;
}

void JobStore::given_out(const std::string& file, std::size_t changes) {
    Settings::Copied& counts = settings_.copied[file];
    counts.given_out = std::max(counts.given_out, changes);
    counts.changes = std::max(counts.changes, changes);
    keep_settings();
}

void JobStore::note_changes() {
    if (!session_) return;
    Settings::Copied& counts = settings_.copied[file_];
    if (counts.changes == session_->batch_count()) return;
    counts.changes = session_->batch_count();
    keep_settings();
}

std::string JobStore::free_name(const std::string& name) const {
    const auto is_taken = [&](const std::string& file) {
        return std::any_of(entries_.begin(), entries_.end(),
                           [&](const FolderEntry& entry) { return entry.name == file; });
    };
    std::string file = name + std::string(ending);
    for (int i = 2; is_taken(file); ++i) file = name + " " + std::to_string(i) + std::string(ending);
    return file;
}

std::size_t JobStore::not_given_out(const std::string& file) const {
    const auto found = settings_.copied.find(file);
    const Settings::Copied counts = found == settings_.copied.end() ? Settings::Copied() : found->second;
    const std::size_t changes = session_ && file == file_ ? session_->batch_count() : counts.changes;
    return changes - std::min(changes, counts.given_out);
}

std::vector<JobStore::Stored> JobStore::stored() const {
    std::vector<FolderEntry> entries = entries_;
    const auto place = [&](const FolderEntry& entry) {
        return std::find(settings_.recent.begin(), settings_.recent.end(), entry.name) - settings_.recent.begin();
    };
    sort_by(entries, [&](const FolderEntry& a, const FolderEntry& b) {
        return place(a) != place(b) ? place(a) < place(b) : a.changed_ms > b.changed_ms;
    });
    std::vector<Stored> jobs;
    jobs.reserve(entries.size());
    for (const FolderEntry& entry : entries)
        jobs.push_back({entry.name, without_ending(entry.name), is_open(entry.name), not_given_out(entry.name)});
    return jobs;
}

// ---- the person ------------------------------------------------------------------------------------------

Author JobStore::author() const {
    return author_of(settings_, file_, session_.get());
}

void JobStore::set_visit(const Id& visit) {
    if (!session_) return;
    set_visit_of(settings_, file_, visit);
    keep_settings();
}

void JobStore::set_person(const std::string& person) {
    settings_.person = person;
    keep_settings();
}

void JobStore::set_look(const std::string& theme, double text_scale, const std::string& language) {
    set_look_of(settings_, theme, text_scale, language);
    keep_settings();
}

void JobStore::keep_settings() {
    if (const Result<void> kept = kept_settings_.save(text_of(settings_)); !kept) hooks_.remark(kept.refusal().message);
}

void JobStore::keep_library() {
    if (!session_ || library_.take(session_->job(), as_opened_) == 0) return;
    if (const Result<void> kept = kept_library_.save(write_job(library_.types())); !kept)
        hooks_.remark(kept.refusal().message);
}

void JobStore::import_types(const std::string& file, const Done<int>& done) {
    folder_.read(file, most_library_bytes, [this, file, done](const Result<std::string>& text) {
        if (!text) return done(text.refusal());
        const Result<int> taken = library_.import_text(*text, std::string(own_name(file)));
        if (taken && *taken > 0)
            if (const Result<void> kept = kept_library_.save(write_job(library_.types())); !kept)
                return done(kept.refusal());
        done(taken);
    });
}

std::string JobStore::types_text() {
    keep_library();
    return write_job(library_.types());
}

}  // namespace tapwright
