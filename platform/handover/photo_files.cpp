#include "platform/handover/photo_files.h"

#include <algorithm>
#include <filesystem>
#include <optional>
#include <set>

#include "core/base/blank.h"
#include "core/base/text.h"
#include "platform/photos/photos.h"
#include "platform/system/files.h"

namespace tapwright {
namespace {

namespace fs = std::filesystem;

// Null where there is none, or nothing to read in it: decide() says that.
const std::string* text_in(const Map& fields, std::string_view name) {
    for (const auto& [key, value] : fields)
        if (key == name && value.text() && !is_blank(*value.text())) return value.text();
    return nullptr;
}

// Beside the JSON file and nowhere else.
bool stays_inside(const std::string& file) {
    const fs::path path(file);
    return path.is_relative() &&
           std::none_of(path.begin(), path.end(), [](const fs::path& part) { return part == ".."; });
}

struct Found {
    std::string place;
    std::string bytes;
};

// The file a record names, else where export would have put it.
Result<std::optional<Found>> file_of(const std::string& folder, const Map& photo, const std::string& sha256) {
    std::vector<std::string> places;
    if (const std::string* file = text_in(photo, "file")) places.push_back(*file);
    for (const char* extension : {"jpg", "png"}) places.push_back(photo_file_name(sha256, extension));
    for (const std::string& place : places) {
        TAPWRIGHT_TAKE(bytes, read_inside(folder, place, photos::most_bytes));
        if (bytes) return std::optional(Found{place, *bytes});
    }
    return std::optional<Found>();
}

}  // namespace

Result<PreparedPhoto> prepare_photo(const std::string& image) {
    Result<std::string> bytes = read_file(image, photos::most_bytes);
    if (!bytes) return bytes.refusal();
    Result<photos::TakenIn> photo = photos::take_in(*bytes, image);
    if (!photo) return photo.refusal();
    std::string digest = hex(sha256(*bytes));
    return PreparedPhoto{std::move(*bytes), std::move(photo->copy.bytes), photo->extension, std::move(digest)};
}

Result<AddedPhoto> add_photo(Session& session, const Id& about, const std::string& image, Map fields,
                             const Author& author, const Stamp& stamp) {
    TAPWRIGHT_PASS(check_takes_photos(session));
    Result<PreparedPhoto> photo = prepare_photo(image);
    if (!photo) return photo.refusal();
    return keep_photo(session, about, std::move(*photo), std::move(fields), author, stamp);
}

Result<FoundPhotos> find_photos(const ChangeList& changes, const std::string& json_path) {
    FoundPhotos found;
    std::set<std::string> seen;
    const std::string folder = fs::path(json_path).parent_path().string();
    for (const Change& change : changes) {
        if (change.kind != Kind::photo || change.op != ChangeOp::add) continue;
        const std::string* digest = text_in(change.fields, "sha256");
        if (!digest || digest->size() != 64) continue;  // decide() says what is wrong with it
        if (const std::string* file = text_in(change.fields, "file"); file && !stays_inside(*file))
            return Refusal{
                placed(code(json_path),
                       Message("Photo {id} names the file {file}, which leads out of the folder. Photos lie beside the "
                               "JSON file, as {pattern}.",
                               {{"id", code(change.id.text())},
                                {"file", code(cited(*file, 100))},
                                {"pattern", code("photos/<sha256>.jpg")}}))};
        if (!seen.insert(*digest).second) continue;
        TAPWRIGHT_TAKE(file, file_of(folder, change.fields, *digest));
        if (!file) {
            ++found.missing;
            continue;
        }
        const std::string path = (fs::path(folder) / file->place).string();
        const std::string* bytes = &file->bytes;
        if (hex(sha256(*bytes)) != *digest)
            return Refusal{
                Message("{file} is not the photo that {json} names: its SHA-256 is {hash}. Fetch both again from "
                        "where they came; nothing was imported.",
                        {{"file", code(path)}, {"json", code(json_path)}, {"hash", code(hex(sha256(*bytes)))}})};
        Result<photos::TakenIn> photo = photos::take_in(*bytes, path);
        if (!photo) return photo.refusal();
        found.files.push_back({folder, file->place, *digest, std::move(photo->copy.bytes)});
    }
    return found;
}

Result<void> keep_photos(Session& session, const FoundPhotos& photos) {
    for (const PhotoFile& file : photos.files) {
        TAPWRIGHT_TAKE(bytes, read_inside(file.folder, file.place, photos::most_bytes));
        if (!bytes || hex(sha256(*bytes)) != file.sha256)
            return Refusal{Message("{file} changed while it was imported. Import again.",
                                   {{"file", code((fs::path(file.folder) / file.place).string())}})};
        TAPWRIGHT_PASS(session.put_blob({*bytes, file.copy}));
    }
    return done();
}

Result<std::size_t> export_photos(const Session& session, const std::string& json_path, FilesTogether& files) {
    std::set<std::string> written;
    const fs::path folder = fs::path(json_path).parent_path();
    for (const Photo& photo : session.job().all<Photo>()) {
        const auto digest = photo.sha256 ? digest_from(photo.sha256->hex) : std::nullopt;
        if (!digest || written.contains(photo.sha256->hex)) continue;
        TAPWRIGHT_TAKE(has, session.has_blob(*digest));
        if (!has) continue;
        TAPWRIGHT_TAKE(blob, session.get_blob(*digest));
        const bool is_png = blob.original.starts_with("\x89PNG");
        const fs::path path = folder / photo_file_name(photo.sha256->hex, is_png ? "png" : "jpg");
        TAPWRIGHT_PASS(files.folder(path.parent_path().string(), FilesTogether::Folder::own));
        TAPWRIGHT_PASS(files.add(path.string(), blob.original));
        written.insert(photo.sha256->hex);
    }
    return written.size();
}

}  // namespace tapwright
