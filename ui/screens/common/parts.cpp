#include "ui/screens/common/parts.h"

#include <utility>

#include "core/session/changes.h"
#include "core/words/words.h"

namespace tapwright::ui {
namespace {

std::unique_ptr<Screen> root_of(Shared& shared, PlaceId place) {
    switch (place) {
        case PlaceId::survey:
            return survey_screen(shared);
        case PlaceId::rooms:
            return rooms_screen(shared);
        case PlaceId::lines:
            return lines_screen(shared);
        case PlaceId::readings:
            return readings_screen(shared);
        case PlaceId::snags:
            return snags_screen(shared);
        case PlaceId::handover:
            break;
    }
    return handover_screen(shared);
}

Result<Message> take_back(const Shared& shared, Session& session) {
    TAPWRIGHT_TAKE(batch, session.undoable(shared.author()));
    TAPWRIGHT_TAKE(outcome, session.undo(shared.author(), shared.stamp()));
    return undone(session, batch, outcome);
}

Result<Message> make_again(const Shared& shared, Session& session) {
    TAPWRIGHT_TAKE(batch, session.redoable(shared.author()));
    TAPWRIGHT_TAKE(outcome, session.redo(shared.author(), shared.stamp()));
    return redone(session, batch, outcome);
}

void take_types(const Shared& shared, FilePurpose purpose, const std::string& path) {
    if (purpose == FilePurpose::import_types)
        return shared.ports.import_types(path, [&shared](const Result<int>& taken) {
            if (taken)
                shared.say(Tone::good,
                           plural("{count} type new or different", "{count} types new or different", *taken));
            else
                shared.say(Tone::stop, taken.refusal().message);
        });
    shared.ports.export_types(path, [&shared, path](const Result<void>& done) {
        if (done)
            shared.say(Tone::good, Message("Types and cables saved as {file}", {{"file", code(path)}}));
        else
            shared.say(Tone::stop, done.refusal().message);
    });
}

void take_file(const Shared& shared, FilePurpose purpose, const std::string& path) {
    if (purpose == FilePurpose::import_types || purpose == FilePurpose::export_types)
        return take_types(shared, purpose, path);
    if (purpose != FilePurpose::open_job && purpose != FilePurpose::import_json) {
        if (shared.on_file)
            shared.on_file(purpose, path);
        else
            shared.say(Tone::note, Message("Open the Photos page of what the photo shows, and drop it there."));
        return;
    }
    const Ports::Done<void> done = [&shared](const Result<void>& taken) {
        if (!taken) shared.say(Tone::stop, taken.refusal().message);
    };
    if (purpose == FilePurpose::open_job)
        shared.ports.open_job(path, done);
    else
        shared.ports.import_job(path, done);
}

// What a dropped file is for, by its name; what it really is, the reader of that kind finds out.
FilePurpose purpose_of(const std::string& path) {
    if (path.ends_with(".json")) return FilePurpose::import_json;
    for (const char* end : {".jpg", ".jpeg", ".png", ".JPG", ".JPEG", ".PNG"})
        if (path.ends_with(end)) return FilePurpose::photo;
    return FilePurpose::open_job;
}

}  // namespace

AppParts make_parts(Shared& shared) {
    AppParts parts;
    parts.root = [&shared](PlaceId place) { return root_of(shared, place); };
    parts.opening = [&shared] { return opening_screen(shared); };
    parts.turn_to = [&shared](Context& context, Screen& screen) {
        shared.page = screen.page_zone(context);
        if (shared.page.zone != Id()) shared.last_zone = shared.page.zone;
        shared.page_draws_line = screen.draws_line(context);
    };
    std::unique_ptr<LoadStrip> strip = strip_screen(shared);
    parts.strip_line = [strip = strip.get()](Context& context, float height) { strip->draw_line(context, height); };
    parts.over_page = [strip = strip.get()](Context& context) { strip->draw_open(context); };
    parts.strip = std::move(strip);
    parts.strip_shown = [&shared](Context& context) {
        return context.session && shared.zone_in_hand(context.session->job());
    };
    parts.beside = beside_screen(shared);
    parts.beside_shown = [&shared](Context& context, PlaceId) {
        return context.session && shared.zone_in_hand(context.session->job());
    };
    parts.job_name = [](const Session& session) { return Message(entered(name_of(session.job(), job_id()))); };
    parts.job_page = [&shared] { return settings_screen(shared); };
    parts.find = [&shared] { return find_screen(shared); };
    parts.undo = [&shared](Session& session) { return take_back(shared, session); };
    parts.redo = [&shared](Session& session) { return make_again(shared, session); };
    parts.can_redo = [&shared](const Session& session) { return session.can_redo(shared.author()); };
    parts.file_chosen = [&shared](FilePurpose purpose, const std::string& path) { take_file(shared, purpose, path); };
    parts.after_frame = [&shared] {
        if (!std::exchange(shared.takes_files, false)) shared.on_file = nullptr;
        const bool any = shared.ports.keep_photos();
        const PhotoWork work = shared.ports.photo_work();
        return any || work.done != work.all;
    };
    parts.files_dropped = [&shared](const std::vector<std::string>& paths) {
        for (const std::string& path : paths) take_file(shared, purpose_of(path), path);
    };
    return parts;
}

}  // namespace tapwright::ui
