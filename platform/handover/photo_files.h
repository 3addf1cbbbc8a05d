// Photos between files and a job: one added, those of an imported job, those of an exported one.
#pragma once

#include <string>
#include <vector>

#include "core/session/session.h"
#include "platform/jobs/keep_photo.h"
#include "platform/system/parts.h"

namespace tapwright {

// Reads a photo and makes it ready.
Result<PreparedPhoto> prepare_photo(const std::string& image);

// Takes the picture in and adds its record; `fields` are further fields of it: caption, share, taken, pin. The same
// picture of the same thing is kept once: its record gets the fields. Errors: what take_in(), put_blob() and decide()
// say; then the job is as it was.
Result<AddedPhoto> add_photo(Session& session, const Id& about, const std::string& image, Map fields,
                             const Author& author, const Stamp& stamp);

// A photo that a JSON job names and that lies beside it.
struct PhotoFile {
    std::string folder;
    std::string place;  // in that folder
    std::string sha256;
    std::string copy;
};
struct FoundPhotos {
    std::vector<PhotoFile> files;
    std::size_t missing = 0;  // named, but not there
};

// Looks for the photos that these changes add, in the folder of `json_path`. Refuses a file whose bytes do not have the
// hash named, that is no photo, or whose place leads out of the folder, by a link too.
Result<FoundPhotos> find_photos(const ChangeList& changes, const std::string& json_path);
// Puts them into the job. Reads each once more, and refuses what changed meanwhile.
Result<void> keep_photos(Session& session, const FoundPhotos& photos);

// Adds the job's photos, bit for bit, to `files`: into photos/ beside `json_path`. Returns: how many.
Result<std::size_t> export_photos(const Session& session, const std::string& json_path, FilesTogether& files);

}  // namespace tapwright
