// What all screens of one window share: who writes and when, what is in hand, what was used last, and the ports to the
// machine. Filled by the platform (or a test), handed to every screen by reference, and outliving them all.
//
// Screens change a job only by ask(): the request runs after the frame, so that nothing changes under a screen while it
// draws.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/session/session.h"
#include "ui/frame/context.h"
#include "ui/widgets/photo_shelf.h"

namespace tapwright::ui {

// A job file that was open before.
struct RecentJob {
    std::string path;
    std::string name;  // what to show; the file's name where nothing better is known
};

// The three fields of a new job.
struct NewJob {
    std::string name;
    std::string line_v;  // as typed; empty: 70.7
    std::string person;  // who works; empty: as in the settings
};

// Photos being taken in.
struct PhotoWork {
    std::size_t done = 0, all = 0;  // nothing is going on where both are the same
};

struct Shared {
    // ---- ports: filled before the first frame ----
    std::function<Author()> author;
    std::function<Stamp()> stamp;
    // The visit in progress; what follows is stamped with it. An empty id ends it.
    std::function<void(const Id& visit)> set_visit = [](const Id&) {};
    std::function<void(const std::string& person)> set_person = [](const std::string&) {};
    std::function<void(const Preferences&)> keep_preferences = [](const Preferences&) {};
    // Each opens the job it made or found, or says why not.
    std::function<Result<void>(const NewJob&)> create_job;
    std::function<Result<void>(const std::string& path)> open_job;
    std::function<Result<void>(const std::string& path)> import_job;
    std::function<std::vector<RecentJob>()> recent_jobs = [] { return std::vector<RecentJob>(); };
    // Makes the handover sheet beside the job file. Returns: where it stands, in words.
    std::function<Result<Message>(bool owner)> make_sheet;
    // Photos: begins taking files in as photos of a record, beside the drawing; how far it has come; no more of it.
    // What is ready is kept between frames: keep_photos() is called after each frame and returns whether there was any.
    std::function<void(const Id& about, std::vector<std::string> paths)> take_photos;
    std::function<PhotoWork()> photo_work;
    std::function<void()> cancel_photos;
    std::function<bool()> keep_photos;
    PhotoShelf::Source photo_pixels = [](const std::string&, int) -> Result<PhotoPixels> {
        return Refusal{"Photos cannot be shown here."};
    };
    PhotoShelf shelf;
    // Shows a sentence over the page, outside of a frame.
    std::function<void(Tone, Message)> say = [](Tone, const Message&) {};
    // What a chosen file is for beyond opening and importing; set by the screen that asked.
    std::function<void(FilePurpose, const std::string& path)> on_file;
    // Set in each frame by the screen that asked; once it is no longer in front, on_file goes, so that no file reaches
    // a page that has been left.
    bool takes_files = false;

    // ---- in hand ----
    Id zone;   // whose load strip is shown; empty: the first
    Id room;   // where work goes on; empty: none
    Id point;  // the point last looked at; empty: none
    // What a trial in front would lead to, for the strip: set anew in each frame that shows the trial.
    std::shared_ptr<const Proposal> tried;

    // ---- used last, so that the next one of the same needs fewer touches ----
    Id speaker_type, attenuator_type, cable;
    std::optional<Watts> tap;
    Id feed;  // the point that was added last, or the zone

    // Queues a request to the session. `what` is for the kept bar: "Tap of L-104 set to 5 W". `then` runs with the ids
    // of the changes once they are on disk.
    void ask(Context& context, ChangeList changes, Message what, std::function<void(const std::vector<Id>&)> then = {});

    // The zone in hand, or the first, or nothing.
    const Zone* zone_in_hand(const Job& job) const;
};

// A change for ask(): a new record (the session makes its id), fields set, a record removed.
tapwright::Change adding(Kind kind, Map fields);
tapwright::Change setting(Kind kind, const Id& id, Map fields);

}  // namespace tapwright::ui
