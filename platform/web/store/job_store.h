// The jobs in a browser: each a file of its own in the private folder, at most one open; and what belongs to the
// person: settings, the visit in progress of each job, the library of types and cables. What platform/jobs is for a
// desktop.
//
// Opening another job closes the first; what cannot be opened leaves the first open.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "core/session/session.h"
#include "platform/jobs/library.h"
#include "platform/system/settings.h"
#include "platform/web/store/folder.h"
#include "platform/web/store/handles.h"
#include "platform/web/store/kept_text.h"

namespace tapwright {

class JobStore {
public:
    template <class T>
    using Done = Folder::Done<T>;

    // The three fields of a new job.
    struct Start {
        std::string name;
        std::string line_v;  // as typed; blank: as the field table says
        std::string person;  // becomes the person of the settings; blank: they stay
    };
    struct Stored {
        std::string file;
        std::string name;               // of the file, without its ending
        bool is_open = false;           // and was not closed after an error
        std::size_t not_given_out = 0;  // changes since a copy of it last left the device
    };
    struct Hooks {
        // Before a session goes: nullptr. Once another is open: that one.
        std::function<void(Session* session)> show = [](Session*) {};
        // What a person should know though what they asked was done.
        std::function<void(const Message& sentence)> remark = [](const Message&) {};
    };

    // Both outlive it. register_vfs(files) was called.
    JobStore(Folder& folder, OpenFiles& files);
    JobStore(const JobStore&) = delete;
    JobStore& operator=(const JobStore&) = delete;
    void set_hooks(Hooks hooks) { hooks_ = std::move(hooks); }

    // First of all, once: reads the settings and the library and finds the jobs, then opens the one that was open last.
    // Refused where another tab has the program open. A job that cannot be opened is remarked.
    void start(Done<void> done);

    // ---- the open job; null and "" before there is one ----
    Session* session() { return session_.get(); }
    const Session* session() const { return session_.get(); }
    const std::string& file() const { return file_; }

    // A job of the folder, or one from outside, which is copied in first. The one that is open already stays, unless it
    // was closed after an error.
    void open(const std::string& file, const Done<void>& done);
    // Named after the job; a number behind the name where it is taken.
    void create(const Start& start, const Stamp& stamp, const Done<void>& done);
    // From a job as JSON, a file from outside, named after it.
    void import(const std::string& file, const Stamp& stamp, const Done<void>& done);
    void import_text(const std::string& text, const std::string& name, const Stamp& stamp, const Done<void>& done);
    // The latest first.
    std::vector<Stored> stored() const;
    // "Mill House 2", not opened.
    void duplicate(const std::string& file, const Done<void>& done);
    // For good. The open job is closed first, and none is open then.
    void remove(const std::string& file, const Done<void>& done);

    // ---- copies out of the device ----
    // The open job compacted and checked (Session::seal), as bytes. Requires: a job is open.
    Result<std::string> sealed();
    // A copy with so many of a job's changes has left the device.
    void given_out(const std::string& file, std::size_t changes);
    // The page may end any moment: what is counted of the open job is kept.
    void note_changes();

    // ---- the person ----
    const Settings& settings() const { return settings_; }
    // The person, and the visit in progress of the open job where that visit is still in it.
    Author author() const;
    void set_visit(const Id& visit);
    void set_person(const std::string& person);
    void set_look(const std::string& theme, double text_scale, const std::string& language);

    // ---- types and cables of earlier jobs: a job's go in when it is opened and when it is left ----
    const Job& library() const { return library_.types(); }
    void import_types(const std::string& file, const Done<int>& done);
    // The library as text, with those of the open job.
    std::string types_text();

private:
    bool is_open(const std::string& file) const { return session_ && !session_->is_closed() && file == file_; }
    void load_kept();
    void make(const std::string& name, const Command& content, const Author& author, const Stamp& stamp,
              const Done<void>& done);
    void bring_in(const std::string& file, const Done<void>& done);
    Result<void> take(const std::string& file, Result<Session> session);
    void leave();
    void add_entry(const std::string& file);
    std::size_t not_given_out(const std::string& file) const;
    std::string free_name(const std::string& name) const;
    void keep_settings();
    void keep_library();

    Folder& folder_;
    OpenFiles& files_;
    Hooks hooks_;
    KeptText kept_settings_, kept_library_;
    Settings settings_;
    Library library_;
    std::vector<FolderEntry> entries_;  // of jobs
    std::unique_ptr<Session> session_;
    Job as_opened_;  // what the open job was like then
    std::string file_;
};

}  // namespace tapwright
