#include "platform/jobs/keep_photo.h"

namespace tapwright {

std::string photo_file_name(const std::string& sha256, const std::string& extension) {
    return "photos/" + sha256 + "." + extension;
}

Result<void> check_takes_photos(const Session& session) {
    if (session.can_write()) return done();
    return Refusal{
        Message("{file} can only be read, so no photo can be added to it.", {{"file", code(session.path())}})};
}

Result<AddedPhoto> keep_photo(Session& session, const Id& about, PreparedPhoto photo, Map fields, const Author& author,
                              const Stamp& stamp) {
    TAPWRIGHT_PASS(check_takes_photos(session));
    AddedPhoto added{{}, photo.sha256, false};
    Change change{ChangeOp::add, Kind::photo, {}, {}};
    for (const Photo& there : session.job().all<Photo>())
        if (there.about == about && there.sha256 && there.sha256->hex == added.sha256) {
            change.op = ChangeOp::set;
            change.id = there.id;
        }
    if (change.op == ChangeOp::add)
        change.fields = {{"about", about.text()},
                         {"sha256", added.sha256},
                         {"file", photo_file_name(added.sha256, photo.extension)}};
    change.fields.insert(change.fields.end(), fields.begin(), fields.end());
    const Command command{.changes = {change}, .fill_in = false, .place = {}};
    // First whether it may be added, then the picture, then its record: a record never lacks its picture.
    TAPWRIGHT_PASS(session.propose(command, author, stamp));
    TAPWRIGHT_PASS(session.put_blob({std::move(photo.bytes), std::move(photo.copy)}));
    TAPWRIGHT_TAKE(outcome, session.request(command, author, stamp));
    added.id = outcome.ids.back();
    added.kept = outcome.kept && change.op == ChangeOp::add;
    return added;
}

Result<Message> keep_ready_photo(Session& session, ReadyPhoto ready, const Author& author, const Stamp& stamp) {
    if (!ready.photo) return ready.photo.refusal();
    TAPWRIGHT_TAKE(added, keep_photo(session, ready.about, std::move(*ready.photo), {}, author, stamp));
    return added.kept ? Message() : Message("This photo was already in the job; it is kept once.");
}

}  // namespace tapwright
