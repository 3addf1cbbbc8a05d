// new, import, export, seal, verify: job files as wholes.
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <new>

#include "core/exchange/job_csv.h"
#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/words/personal_data.h"
#include "core/words/words.h"
#include "platform/cli/command.h"
#include "platform/handover/photo_files.h"
#include "platform/system/files.h"
#include "platform/system/parts.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_json_bytes = std::size_t{256} << 20;

Message count_of(std::size_t count, Message (*said)(std::int64_t)) {
    return said(static_cast<std::int64_t>(count));
}
Message zones(std::int64_t count) {
    return plural("{count} zone", "{count} zones", count);
}
Message points(std::int64_t count) {
    return plural("{count} point", "{count} points", count);
}
Message photo_count(std::int64_t count) {
    return plural("{count} photo", "{count} photos", count);
}
Message changes(std::int64_t count) {
    return plural("{count} change", "{count} changes", count);
}

Message made(const std::string& path, const Job& job, const FoundPhotos& photos) {
    std::vector<Message> held{count_of(job.count(Kind::zone), zones), count_of(job.count(Kind::point), points)};
    if (!photos.files.empty()) held.push_back(count_of(photos.files.size(), photo_count));
    const Message missing =
        photos.missing == 0
            ? Message()
            : plural("{count} photo is missing beside it. Its record is kept; add the picture later.",
                     "{count} photos are missing beside it. Their records are kept; add the pictures later.",
                     static_cast<std::int64_t>(photos.missing));
    return sentences(
        {Message("Made {file}: {job}, with {records}.",
                 {{"file", code(path)}, {"job", entered(name_of(job, job_id()))}, {"records", series(held)}}),
         missing});
}

Result<int> create(const std::string& path, const Command& content, const Call& call, const FoundPhotos& photos = {}) {
    const Result<Author> author = author_for(call, path);
    if (!author) return author.refusal();
    Message said;
    // A job is taken whole or not at all: it has its name once the photos are in it too.
    const Result<void> kept = make_job_file(path, [&](const std::string& part) -> Result<void> {
        Result<Session> session = Session::create(part, content, *author, make_stamp());
        if (!session) return session.refusal();
        TAPWRIGHT_PASS(keep_photos(*session, photos));
        said = made(path, session->job(), photos);
        return done();
    });
    if (!kept) return kept.refusal();
    print_line(call.words, said);
    return fine;
}

std::string digest_text(const Digest& digest) {
    return hex(digest);
}

// What is to be known of it goes to standard error: standard output is the job's alone.
Result<int> export_to_output(const Call& call, const Session& session) {
    TAPWRIGHT_PASS(write_output(call, call.arguments[1], write_job(session.job())));
    const std::size_t photos = session.job().count(Kind::photo);
    const Message left_out = photos == 0 ? Message()
                                         : plural("{count} photo is not in it: export into a file for that.",
                                                  "{count} photos are not in it: export into a file for those.",
                                                  static_cast<std::int64_t>(photos));
    if (const Message told = sentences({personal_data(session.job()), left_out}); !told.empty())
        remark(call.words, told);
    return fine;
}

Result<int> export_json(const Call& call, const Session& session, const std::string& out) {
    TAPWRIGHT_PASS(check_output(call, out));
    FilesTogether files;
    TAPWRIGHT_PASS(files.add(out, write_job(session.job())));
    TAPWRIGHT_TAKE(photos, export_photos(session, out, files));
    TAPWRIGHT_PASS(files.keep());
    const Message wrote =
        photos == 0 ? Message("Wrote {file}.", {{"file", code(out)}})
                    : plural("Wrote {file}, and {count} photo into {folder} beside it.",
                             "Wrote {file}, and {count} photos into {folder} beside it.",
                             static_cast<std::int64_t>(photos), {{"file", code(out)}, {"folder", code("photos")}});
    print_line(call.words, sentences({wrote, personal_data(session.job())}));
    return fine;
}

// The tables of an earlier export whose kinds have no record now: they would pass for this job's.
std::vector<std::string> tables_left(const Job& job, const std::filesystem::path& folder) {
    std::vector<std::string> left;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (std::string name = (folder / csv_name(kind_at(i))).string(); job.count(kind_at(i)) == 0 && is_taken(name))
            left.push_back(std::move(name));
    return left;
}

// One file for each kind of records. Those of an earlier export go with --replace, also where a kind has no record now.
Result<int> export_csv(const Call& call, const Session& session, const std::string& out) {
    const std::filesystem::path folder(out);
    for (std::size_t i = 0; i < kind_count; ++i)
        TAPWRIGHT_PASS(check_output(call, (folder / csv_name(kind_at(i))).string()));
    const std::vector<std::string> left = tables_left(session.job(), folder);
    // What may not be written over is not taken away either.
    for (const std::string& old : left) TAPWRIGHT_PASS(check_place(old));
    FilesTogether files;
    TAPWRIGHT_PASS(files.folder(out, FilesTogether::Folder::named));
    for (const CsvFile& file : write_csv(session.job()))
        TAPWRIGHT_PASS(files.add((folder / file.name).string(), file.text));
    TAPWRIGHT_PASS(files.keep());
    for (const std::string& old : left)
        if (!file_port().remove(old))
            return Refusal{Message(
                "The tables are written, but {file} of an earlier export could not be taken away: {reason}. Remove "
                "it; it is none of this job as it is now.",
                {{"file", code(old)}, {"reason", entered(std::strerror(errno))}})};
    print_line(call.words,
               sentences({Message("Wrote one CSV file for each kind of record into {folder}.", {{"folder", code(out)}}),
                          personal_data(session.job())}));
    return fine;
}

}  // namespace

Result<int> make_new(const Call& call) {
    if (!call.has("--name"))
        return Refusal{Message("A job needs a name: {call}.", {{"call", code("`tapwright new FILE --name N`")}})};
    TAPWRIGHT_PASS(check_job_file(call.arguments[0]));
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
    TAPWRIGHT_PASS(check_job_file(call.arguments[1]));
    const Result<std::string> text = read_input(in, most_json_bytes);
    if (!text) return text.refusal();
    const Result<JobText> job = read_job(*text, is_standard(in) ? "standard input" : in);
    if (!job) return job.refusal();
    const Result<FoundPhotos> photos = find_photos(job->changes, in);
    if (!photos) return photos.refusal();
    const auto place = [&](std::size_t change, std::string_view field) { return job->place(change, field); };
    return create(call.arguments[1], Command{.changes = job->changes, .fill_in = false, .place = place}, call, *photos);
}

Result<int> export_job(const Call& call) {
    const std::string& out = call.arguments[1];
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    if (is_standard(out)) return export_to_output(call, *session);
    return has_ending(out, ".json") ? export_json(call, *session, out) : export_csv(call, *session, out);
}

Result<int> seal_job(const Call& call) {
    TAPWRIGHT_PASS(check_job_file(call.arguments[1]));
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<Sealed> sealed = session->seal(call.arguments[1], file_port());
    if (!sealed) return sealed.refusal();
    if (call.json())
        print(pretty_json(Map{{"sha256", digest_text(sealed->sha256)}}));
    else
        print_line(call.words, Message("Sealed {file}: {changes}, {photos}, {bytes} bytes, SHA-256 {hash}.",
                                       {{"file", code(call.arguments[1])},
                                        {"changes", count_of(sealed->content.batches, changes)},
                                        {"photos", count_of(sealed->content.blobs, photo_count)},
                                        {"bytes", sealed->bytes},
                                        {"hash", code(digest_text(sealed->sha256))}}));
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
        print_line(call.words, sentences({Message("{file}: {changes} and {photos} match their hashes.",
                                                  {{"file", code(call.arguments[0])},
                                                   {"changes", count_of(verified->batches, changes)},
                                                   {"photos", count_of(verified->blobs, photo_count)}}),
                                          Message("The file is undamaged. This does not prove who wrote it.")}));
    return fine;
}

}  // namespace tapwright::cli
