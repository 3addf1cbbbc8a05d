// new, import, export, seal, verify: job files as wholes.
#include <filesystem>

#include "core/base/text.h"
#include "core/exchange/job_csv.h"
#include "core/exchange/job_json.h"
#include "core/words/personal_data.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/handover/photo_files.h"
#include "platform/system/files.h"
#include "platform/system/stamps.h"
#include "core/words/words.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_json_bytes = std::size_t{256} << 20;

Result<int> create(const std::string& path, const Command& content, const Call& call, const FoundPhotos& photos = {}) {
    const Result<Author> author = author_for(call, path);
    if (!author) return author.refusal();
    Result<Session> session = Session::create(path, content, *author, make_stamp());
    if (!session) return session.refusal();
    if (const Result<void> kept = keep_photos(*session, photos); !kept) {
        file_port().remove(path);  // a job is taken whole or not at all
        return kept.refusal();
    }
    print("Made " + path + ": " + name_of(session->job(), job_id()) + ", " +
          counted(session->job().count(Kind::zone), "zone") + ", " +
          counted(session->job().count(Kind::point), "point") +
          (photos.files.empty() ? "" : ", " + counted(photos.files.size(), "photo")) + ".\n");
    if (photos.missing > 0)
        print(counted(photos.missing, "photo") +
              " named in it is not beside it; the records are kept, and the pictures can be added later.\n");
    return fine;
}

std::string digest_text(const Digest& digest) {
    return hex(digest);
}

}  // namespace

Result<int> make_new(const Call& call) {
    if (!call.has("--name")) return Refusal{"A job needs a name: tapwright new FILE --name N."};
    Change change{ChangeOp::set, Kind::job, job_id(), {{"name", call.option("--name")}}};
    if (call.has("--line-v")) {
        const Result<Value> volts = value_from_text(*find_field(Kind::job, "line_v"), call.option("--line-v"));
        if (!volts) return placed(code("--line-v"), volts.refusal());
        change.fields.emplace_back("line_v", *volts);
    }
    return create(call.arguments[0], Command{.changes = {change}, .fill_in = true, .place = {}}, call);
}

Result<int> import_job(const Call& call) {
    const std::string& in = call.arguments[0];
    const Result<std::string> text = read_file(in, most_json_bytes);
    if (!text) return text.refusal();
    const Result<JobText> job = read_job(*text, in);
    if (!job) return job.refusal();
    const Result<FoundPhotos> photos = find_photos(job->changes, in);
    if (!photos) return photos.refusal();
    const auto place = [&](std::size_t change, std::string_view field) { return job->place(change, field); };
    return create(call.arguments[1], Command{.changes = job->changes, .fill_in = false, .place = place}, call, *photos);
}

Result<int> export_job(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const std::string& out = call.arguments[1];
    if (out.ends_with(".json")) {
        const Result<void> written = write_file(out, write_job(session->job()));
        if (!written) return written.refusal();
        const Result<std::size_t> photos = export_photos(*session, out);
        if (!photos) return photos.refusal();
        print("Wrote " + out + (*photos > 0 ? " and " + counted(*photos, "photo") + " into photos beside it" : "") +
              ". " + personal_data_sentence(session->job()) + "\n");
        return fine;
    }
    const Result<void> made = make_folder(out);
    if (!made) return made.refusal();
    for (const CsvFile& file : write_csv(session->job())) {
        const Result<void> written = write_file((std::filesystem::path(out) / file.name).string(), file.text);
        if (!written) return written.refusal();
    }
    print("Wrote one CSV file for each kind of records into " + out + ". " + personal_data_sentence(session->job()) +
          "\n");
    return fine;
}

Result<int> seal_job(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<Sealed> sealed = session->seal(call.arguments[1], file_port());
    if (!sealed) return sealed.refusal();
    if (call.json())
        print(pretty_json(Map{{"sha256", digest_text(sealed->sha256)}}));
    else
        print("Sealed " + call.arguments[1] + ": " + counted(sealed->content.batches, "change") + ", " +
              counted(sealed->content.blobs, "photo") + ", " + std::to_string(sealed->bytes) + " bytes, SHA-256 " +
              digest_text(sealed->sha256) + ".\n");
    return fine;
}

Result<int> verify_job(const Call& call) {
    if (call.has("--state")) return find_state(call);
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<Verified> verified = session->verify();
    if (!verified) return verified.refusal();
    if (call.json())
        print(pretty_json(Map{{"batches", static_cast<double>(verified->batches)},
                              {"ops", static_cast<double>(verified->ops)},
                              {"photos", static_cast<double>(verified->blobs)},
                              {"job", digest_text(verified->job)},
                              {"content", digest_text(verified->content)}}));
    else
        print(call.arguments[0] + " is undamaged: " + counted(verified->batches, "change") + " of " +
              counted(verified->ops, "fact") + " and " + counted(verified->blobs, "photo") +
              " read and matched to their hashes. That proves freedom from damage, not from forgery.\n");
    return fine;
}

}  // namespace tapwright::cli
