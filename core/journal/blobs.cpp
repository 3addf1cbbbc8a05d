// Photos, and the proof that a whole file is free of damage.
#include <limits>

#include "core/base/memory.h"
#include "core/base/text.h"
#include "core/journal/journal_impl.h"

namespace tapwright {
namespace {

// Together below the 48 MiB that a row may have (database.cpp).
constexpr std::size_t longest_original = std::size_t{40} << 20;
constexpr std::size_t longest_copy = std::size_t{4} << 20;

}  // namespace

std::optional<Digest> digest_from(std::string_view text) {
    Digest digest{};
    if (text.size() != 2 * digest.size()) return std::nullopt;
    for (std::size_t i = 0; i < digest.size(); ++i) {
        unsigned value = 0;
        for (const char c : text.substr(2 * i, 2)) {
            const bool is_digit = c >= '0' && c <= '9';
            if (!is_digit && !(c >= 'a' && c <= 'f')) return std::nullopt;
            value = value * 16 + static_cast<unsigned>(is_digit ? c - '0' : c - 'a' + 10);
        }
        digest[i] = static_cast<std::uint8_t>(value);
    }
    return digest;
}

namespace {

Refusal not_here(const std::string& name, const std::string& path) {
    return {Message("{file} holds no photo {hash}; add it again from where it came.",
                    {{"file", named(path)}, {"hash", code(name.substr(0, 16))}})};
}

// Row: sha256, original, copy, copy_sha256. A missing copy is empty, and so is its hash.
bool is_whole(const SqlStatement& row) {
    if (hex(sha256(row.text(1))) != row.text(0)) return false;
    if (row.text(2).empty()) return row.text(3).empty();
    return hex(sha256(row.text(2))) == row.text(3);
}

Result<std::size_t> verify_blobs(const Database& database, const std::string& path) {
    SqlStatement rows = database.prepare("SELECT sha256, original, copy, copy_sha256 FROM blob");
    std::size_t blobs = 0;
    SqlStatement::Step step;
    for (; (step = rows.step()) == SqlStatement::Step::row; ++blobs)
        if (!is_whole(rows))
            return damaged(path,
                           Message("Photo {hash} does not match its hash.", {{"hash", code(cited(rows.text(0), 64))}}));
    if (step == SqlStatement::Step::error) return database.reading_failed();
    return blobs;
}

}  // namespace

Result<Digest> Journal::put_blob(const Blob& blob) {
    Impl& impl = *impl_;
    TAPWRIGHT_PASS(impl.can_write());
    if (blob.original.empty()) return Refusal{Message("The photo is empty; take it again.")};
    if (blob.original.size() > longest_original)
        return Refusal{Message("The photo is too large ({size} MiB). Up to 40 MiB can be saved.",
                               {{"size", blob.original.size() >> 20}})};
    if (blob.copy.size() > longest_copy)
        return Refusal{Message("The photo's small copy is above 4 MiB; make a smaller one.")};
    const Digest digest = sha256(blob.original);
    TAPWRIGHT_TAKE(there, has_blob(digest));
    if (there) return digest;

    const std::string name = hex(digest);
    const std::string copy_name = blob.copy.empty() ? std::string() : hex(sha256(blob.copy));
    const auto insert = [&] {
        SqlStatement statement = impl.database->prepare("INSERT INTO blob VALUES (?,?,?,?)");
        statement.bind_text(0, name).bind_bytes(1, blob.original).bind_bytes(2, blob.copy).bind_text(3, copy_name);
        return statement.step() == SqlStatement::Step::done;
    };
    Message trouble;
    TAPWRIGHT_PASS(impl.in_transaction(insert, trouble));
    TAPWRIGHT_TAKE(is_there_now, has_blob(digest));
    if (is_there_now) return digest;
    return Refusal{sentences({Message("The photo could not be saved in {file}.", {{"file", named(impl.path)}}), trouble,
                              Message("The file is as it was before; fix that and try again.")})};
}

Result<bool> Journal::has_blob(const Digest& sha256) const {
    TAPWRIGHT_PASS(impl_->can_read());
    const std::string name = hex(sha256);
    SqlStatement row = impl_->database->prepare("SELECT 1 FROM blob WHERE sha256 = ?");
    const SqlStatement::Step step = row.bind_text(0, name).step();
    if (step == SqlStatement::Step::error) return impl_->database->reading_failed();
    return step == SqlStatement::Step::row;
}

Result<Blob> Journal::get_blob(const Digest& sha256) const {
    TAPWRIGHT_PASS(impl_->can_read());
    const std::string name = hex(sha256);
    SqlStatement row =
        impl_->database->prepare("SELECT sha256, original, copy, copy_sha256 FROM blob WHERE sha256 = ?");
    const SqlStatement::Step step = row.bind_text(0, name).step();
    if (step == SqlStatement::Step::error) return impl_->database->reading_failed();
    if (step == SqlStatement::Step::done) return not_here(name, impl_->path);
    if (!is_whole(row))
        return damaged(impl_->path, Message("Photo {hash} does not match its hash.", {{"hash", code(name)}}));
    return Blob{std::string(row.text(1)), std::string(row.text(2))};
}

Result<std::string> Journal::get_copy(const Digest& sha256) const {
    TAPWRIGHT_PASS(impl_->can_read());
    const std::string name = hex(sha256);
    SqlStatement row = impl_->database->prepare("SELECT copy, copy_sha256 FROM blob WHERE sha256 = ?");
    const SqlStatement::Step step = row.bind_text(0, name).step();
    if (step == SqlStatement::Step::error) {
        // A sheet goes on without a picture that is not here or damaged. Without memory there is no telling.
        if (impl_->database->is_out_of_memory()) out_of_memory();
        return impl_->database->reading_failed();
    }
    if (step == SqlStatement::Step::done) return not_here(name, impl_->path);
    const bool is_whole =
        row.text(0).empty() ? row.text(1).empty() : hex(tapwright::sha256(row.text(0))) == row.text(1);
    if (!is_whole)
        return damaged(impl_->path,
                       Message("The small copy of photo {hash} does not match its hash.", {{"hash", code(name)}}));
    return std::string(row.text(0));
}

Result<std::vector<BlobInfo>> Journal::blob_list() const {
    TAPWRIGHT_PASS(impl_->can_read());
    SqlStatement rows =
        impl_->database->prepare("SELECT sha256, length(original), length(copy) FROM blob ORDER BY sha256");
    std::vector<BlobInfo> blobs;
    SqlStatement::Step step;
    while ((step = rows.step()) == SqlStatement::Step::row) {
        const auto digest = digest_from(rows.text(0));
        if (!digest) return damaged(impl_->path, Message("The name of a photo is unreadable."));
        blobs.push_back(
            {*digest, static_cast<std::uint64_t>(rows.number(1)), static_cast<std::uint64_t>(rows.number(2))});
    }
    if (step == SqlStatement::Step::error) return impl_->database->reading_failed();
    return blobs;
}

Result<Verified> Journal::verify() const {
    TAPWRIGHT_PASS(impl_->can_read());
    TAPWRIGHT_PASS(impl_->database->check_structure());
    Chain chain;
    const auto look_on = [](const Batch&) { return done(); };
    TAPWRIGHT_PASS(read_batches(*impl_->database, impl_->path, chain, look_on));
    TAPWRIGHT_TAKE(blobs, verify_blobs(*impl_->database, impl_->path));
    return Verified{chain.size(), chain.op_count(), blobs, chain.hashes().front(), chain.content()};
}

}  // namespace tapwright
