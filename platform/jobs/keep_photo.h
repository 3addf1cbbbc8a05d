// A photo that was made ready, into a job.
#pragma once

#include <string>

#include "core/session/session.h"

namespace tapwright {

// "photos/<sha256>.jpg": the place of a photo beside a JSON file.
std::string photo_file_name(const std::string& sha256, const std::string& extension);

// A photo read and made ready, which may happen on any thread and takes a while.
struct PreparedPhoto {
    std::string bytes;
    std::string copy;
    std::string extension;
    std::string sha256;
};

struct AddedPhoto {
    Id id;
    std::string sha256;
    bool kept = false;  // false: the same picture of the same thing was there, and its record says what was asked
};

// Refuses where the job can only be read.
Result<void> check_takes_photos(const Session& session);

// Takes the picture in and adds its record; `fields` are further fields of it: caption, share, taken, pin. The same
// picture of the same thing is kept once: its record gets the fields. Errors: what put_blob() and decide() say; then
// the job is as it was.
Result<AddedPhoto> keep_photo(Session& session, const Id& about, PreparedPhoto photo, Map fields, const Author& author,
                              const Stamp& stamp);

// What became of a photo that was asked for.
struct ReadyPhoto {
    Id about;
    Result<PreparedPhoto> photo;
};
// Keeps it, when it could be made ready. Returns: what the person should hear besides, empty where there is nothing.
// Errors: why it was not kept.
Result<Message> keep_ready_photo(Session& session, ReadyPhoto ready, const Author& author, const Stamp& stamp);

}  // namespace tapwright
