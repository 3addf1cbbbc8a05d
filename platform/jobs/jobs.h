// The job that is open, the jobs that were open before, and what belongs to the person: their name, how they like the
// screen, the visit in progress of each job, their library of types and cables. What a window needs of files, knowing
// nothing of windows.
//
// At most one job is open. Opening another closes the first; what cannot be opened leaves the first open.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/session/session.h"
#include "platform/jobs/library.h"
#include "platform/system/settings.h"

namespace tapwright {

class Jobs {
public:
    // The three fields of a new job.
    struct Start {
        std::string name;
        std::string line_v;  // as typed; blank: as the field table says
        std::string person;  // becomes the person of the settings; blank: they stay
    };
    // A job that was open before.
    struct Recent {
        std::string path;
        std::string name;      // of the file, without its ending
        std::string folder;    // that holds it
        bool is_open = false;  // and was not closed after an error
    };
    struct Hooks {
        // Before a session goes: nullptr. Once another is open: that one.
        std::function<void(Session* session)> show = [](Session*) {};
        // What a person should know though what they asked was done: settings that cannot be kept.
        std::function<void(const Message& sentence)> remark = [](const Message&) {};
    };

    // Reads the settings. Settings that cannot be read are left as they are and remarked once hooks are there.
    Jobs();
    ~Jobs();
    Jobs(const Jobs&) = delete;
    Jobs& operator=(const Jobs&) = delete;
    void set_hooks(Hooks hooks);

    // ---- the open job; null and "" before there is one ----
    Session* session() { return session_.get(); }
    const Session* session() const { return session_.get(); }
    const std::string& path() const { return path_; }

    // Opening the file that is open already changes nothing, unless it was closed after an error.
    Result<void> open(const std::string& path);
    // A new job file beside the one that was open last, or in the home folder, named after the job; a number behind the
    // name where it is taken.
    Result<void> create(const Start& start, const Stamp& stamp);
    // The same from a job as JSON (docs/records.md), named after that file.
    Result<void> import(const std::string& path, const Stamp& stamp);
    // The latest first; files that are gone are left out.
    std::vector<Recent> recent() const;

    // ---- the person ----
    const Settings& settings() const { return settings_; }
    // The person, and the visit in progress of the open job where that visit is still in it.
    Author author() const;
    void set_visit(const Id& visit);
    void set_person(const std::string& person);
    void set_look(const std::string& theme, double text_scale, const std::string& language);

    // ---- types and cables of earlier jobs: a job's go in when it is opened and when it is left ----
    const Job& library() const { return library_.types(); }
    Result<int> import_types(const std::string& path);
    // With those of the open job.
    Result<void> export_types(const std::string& path);

private:
    bool is_open() const { return session_ && !session_->is_closed(); }
    Result<void> take(const std::string& path, Result<Session> session);
    std::string free_path(const std::string& name) const;
    void keep_settings();
    void keep_library();

    Hooks hooks_;
    Settings settings_;
    Message settings_trouble_;  // empty when they could be read; else nothing is written over them
    Library library_;
    Message library_trouble_;  // empty when it could be read; else nothing is written over it
    std::unique_ptr<Session> session_;
    Job as_opened_;  // what the open job was like then
    std::string path_;
};

}  // namespace tapwright
