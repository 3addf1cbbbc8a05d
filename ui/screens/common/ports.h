// Ports: all that the screens need of the machine they run on, as one interface. The platform fills it (a desktop
// window, a browser), tests take the headless twin (ui/screens/common/headless_ports.h).
//
// Everything is called between frames or while drawing, by the one thread of the window. Files are opaque names that
// the host gave and understands: a path on a desktop, a handle in a browser. Nothing on a screen reads anything into
// them.
//
// What a browser cannot answer at once takes `done`: it is called exactly once, between frames, perhaps before the call
// returns and perhaps after the screen that asked has gone, so it must not hold that screen.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/id.h"
#include "core/job/job.h"
#include "core/session/stamp.h"
#include "ui/frame/context.h"
#include "ui/widgets/photo_shelf.h"

namespace tapwright::ui {

// A job that was open before.
struct RecentJob {
    std::string file;
    std::string name;   // what to show: the job file's own name
    std::string where;  // where it lies, for people; "" where that says nothing
    bool is_open = false;
    // Changes since a copy of it last left this device; nothing where that is not counted.
    std::optional<std::size_t> not_given_out = {};
};

// The three fields of a new job.
struct NewJob {
    std::string name;
    std::string line_v;  // as typed; empty: 70.7
    std::string person;  // who works; empty: as in the settings
};

// What can be made of a job to hand over.
enum class HandoverFile : std::uint8_t { owner_sheet, technician_sheet, labels, sealed_copy, json, csv };

struct MadeFile {
    std::string file;
    std::string name;    // for people: "Mill House owner.pdf"
    std::string folder;  // that it lies in, for people; "" where that says nothing
};

// Opening shows it in the machine's own viewer, from which it can be printed. Saving puts it where downloads go.
enum class FileUse : std::uint8_t { open, show_folder, share, print, save };

// Photos being taken in.
struct PhotoWork {
    std::size_t done = 0, all = 0;  // nothing is going on where both are the same
};

class Ports {
public:
    template <class T>
    using Done = std::function<void(Result<T>)>;

    virtual ~Ports() = default;

    // ---- who and when ----
    virtual Author author() const = 0;
    // Another one with each call.
    virtual Stamp stamp() = 0;
    // The visit in progress; later changes are recorded under it. An empty id ends it.
    virtual void set_visit(const Id& visit) = 0;
    virtual void set_person(const std::string& person) = 0;
    virtual void keep_preferences(const Preferences& preferences) = 0;

    // ---- what the person brings from earlier jobs ----
    // The line voltage of the job made last, as typed there; "" where none was.
    virtual std::string usual_line_v() const { return {}; }
    // Types and cables, as a job that holds nothing else; none where there is no such library.
    virtual const Job* library() const { return nullptr; }
    // Gives: how many were new or different.
    // NOLINTNEXTLINE(performance-unnecessary-value-param): who does it keeps `done`
    virtual void import_types(const std::string& file, Done<int> done) {
        done(no_library());
        static_cast<void>(file);
    }
    // NOLINTNEXTLINE(performance-unnecessary-value-param): who does it keeps `done`
    virtual void export_types(const std::string& file, Done<void> done) {
        done(no_library());
        static_cast<void>(file);
    }

    // ---- job files: each opens the job it made or found, or says why not and leaves the open job open ----
    virtual std::vector<RecentJob> recent_jobs() const = 0;
    virtual void create_job(const NewJob& job, Done<void> done) = 0;
    virtual void open_job(const std::string& file, Done<void> done) = 0;
    virtual void import_job(const std::string& file, Done<void> done) = 0;

    // ---- where jobs lie inside the program, as in a browser, and not in folders of the person's own ----
    virtual bool keeps_jobs() const { return false; }
    // A second one with the same content; it is not opened.
    // NOLINTNEXTLINE(performance-unnecessary-value-param): who does it keeps `done`
    virtual void duplicate_job(const std::string& file, Done<void> done) {
        done(in_folders());
        static_cast<void>(file);
    }
    // For good. The open job is closed first.
    // NOLINTNEXTLINE(performance-unnecessary-value-param): who does it keeps `done`
    virtual void delete_job(const std::string& file, Done<void> done) {
        done(in_folders());
        static_cast<void>(file);
    }

    // ---- files to hand over ----
    // Makes one from the open job and keeps it beside the job. Gives: the files made, the one to look at first in
    // front. Refuses where no job is open or nothing can be written.
    virtual bool makes_files() const = 0;
    virtual void make_files(HandoverFile which, Done<std::vector<MadeFile>> done) = 0;
    // What this machine can do with a file made: a desktop opens it and shows its folder, a phone shares it.
    virtual bool can(FileUse use) const = 0;
    // With all of them at once: several are shared or saved, one is opened, printed or shown in its folder.
    virtual void use_files(FileUse use, const std::vector<std::string>& files, Done<void> done) = 0;

    // ---- photos ----
    // Begins taking files in as photos of a record, beside the drawing; how far it has come; no more of it.
    virtual void take_photos(const Id& about, const std::vector<std::string>& files) = 0;
    virtual PhotoWork photo_work() const = 0;
    virtual void cancel_photos() = 0;
    // Keeps what is ready in the job. Called after each frame. Returns: whether there was any.
    virtual bool keep_photos() = 0;
    // `sha256` in hex; the longer side gets at most `longest` pixels. A width of 0: they are being made, and a frame
    // follows.
    virtual Result<PhotoPixels> photo_pixels(const std::string& sha256, int longest) = 0;

    // ---- the person ----
    // A moment, RFC 3339, by the clock of where the machine is now.
    virtual std::string local_time(const std::string& time) const = 0;
    // Shows a sentence over the page, outside of a frame.
    virtual void say(Tone tone, const Message& sentence) = 0;

private:
    static Refusal in_folders() {
        return {Message("Jobs are files in your folders here. Copy and delete them there.")};
    }
    static Refusal no_library() { return {Message("There is no library of types here.")}; }
};

}  // namespace tapwright::ui
