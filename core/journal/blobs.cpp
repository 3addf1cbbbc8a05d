// Photos, and the proof that a whole file is free of damage.
#include <limits>

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

// Row: sha256, original, copy, copy_sha256. A missing copy is empty, and so is its hash.
bool is_whole(const Statement& row) {
    if (hex(sha256(row.text(1))) != row.text(0)) return false;
    if (row.text(2).empty()) return row.text(3).empty();
    return hex(sha256(row.text(2))) == row.text(3);
}

Result<std::size_t> verify_blobs(const Database& database, const std::string& path) {
    Statement rows = database.prepare("SELECT sha256, original, copy, copy_sha256 FROM blob");
    std::size_t blobs = 0;
    Statement::Step step;
    for (; (step = rows.step()) == Statement::Step::row; ++blobs)
        if (!is_whole(rows)) return damaged(path, "Photo " + cited(rows.text(0), 64) + " does not match its hash.");
    if (step == Statement::Step::error) return database.reading_failed();
    return blobs;
}

}  // namespace

Result<Digest> Journal::put_blob(const Blob& blob) {
    Impl& impl = *impl_;
    if (auto can = impl.can_write(); !can) return can.refusal();
    if (blob.original.empty()) return Refusal{"The photo is empty; take it again."};
    if (blob.original.size() > longest_original)
        return Refusal{"The photo has " + std::to_string(blob.original.size() >> 20) +
                       " MiB; up to 40 MiB can be kept. Make a smaller one."};
    if (blob.copy.size() > longest_copy) return Refusal{"The photo's small copy is above 4 MiB; make a smaller one."};
    const Digest digest = sha256(blob.original);
    const auto there = has_blob(digest);
    if (!there) return there.refusal();
    if (*there) return digest;

    const std::string name = hex(digest);
    const std::string copy_name = blob.copy.empty() ? std::string() : hex(sha256(blob.copy));
    const auto insert = [&] {
        Statement statement = impl.database->prepare("INSERT INTO blob VALUES (?,?,?,?)");
        statement.bind_text(0, name).bind_bytes(1, blob.original).bind_bytes(2, blob.copy).bind_text(3, copy_name);
        return statement.step() == Statement::Step::done;
    };
    std::string trouble;
    const auto kept = impl.in_transaction(insert, trouble);
    if (!kept) return kept.refusal();
    const auto is_there_now = has_blob(digest);
    if (!is_there_now) return is_there_now.refusal();
    if (*is_there_now) return digest;
    return Refusal{"The photo could not be kept in '" + cited(impl.path, 200) + "': " + trouble +
                   ". The file is as it was before; put that right and add it once more."};
}

Result<bool> Journal::has_blob(const Digest& sha256) const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    const std::string name = hex(sha256);
    Statement row = impl_->database->prepare("SELECT 1 FROM blob WHERE sha256 = ?");
    const Statement::Step step = row.bind_text(0, name).step();
    if (step == Statement::Step::error) return impl_->database->reading_failed();
    return step == Statement::Step::row;
}

Result<Blob> Journal::get_blob(const Digest& sha256) const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    const std::string name = hex(sha256);
    Statement row = impl_->database->prepare("SELECT sha256, original, copy, copy_sha256 FROM blob WHERE sha256 = ?");
    const Statement::Step step = row.bind_text(0, name).step();
    if (step == Statement::Step::error) return impl_->database->reading_failed();
    if (step == Statement::Step::done)
        return Refusal{"The photo " + name.substr(0, 16) + "... is not in '" + cited(impl_->path, 200) +
                       "'; add it again from where it came."};
    if (!is_whole(row)) return damaged(impl_->path, "Photo " + name + " does not match its hash.");
    return Blob{std::string(row.text(1)), std::string(row.text(2))};
}

Result<std::string> Journal::get_copy(const Digest& sha256) const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    const std::string name = hex(sha256);
    Statement row = impl_->database->prepare("SELECT copy, copy_sha256 FROM blob WHERE sha256 = ?");
    const Statement::Step step = row.bind_text(0, name).step();
    if (step == Statement::Step::error) return impl_->database->reading_failed();
    if (step == Statement::Step::done)
        return Refusal{"The photo " + name.substr(0, 16) + "... is not in '" + cited(impl_->path, 200) +
                       "'; add it again from where it came."};
    const bool is_whole =
        row.text(0).empty() ? row.text(1).empty() : hex(tapwright::sha256(row.text(0))) == row.text(1);
    if (!is_whole) return damaged(impl_->path, "The copy of photo " + name + " does not match its hash.");
    return std::string(row.text(0));
}

Result<std::vector<BlobInfo>> Journal::blob_list() const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    Statement rows =
        impl_->database->prepare("SELECT sha256, length(original), length(copy) FROM blob ORDER BY sha256");
    std::vector<BlobInfo> blobs;
    Statement::Step step;
    while ((step = rows.step()) == Statement::Step::row) {
        const auto digest = digest_from(rows.text(0));
        if (!digest) return damaged(impl_->path, "The name of a photo is unreadable.");
        blobs.push_back(
            {*digest, static_cast<std::uint64_t>(rows.number(1)), static_cast<std::uint64_t>(rows.number(2))});
    }
    if (step == Statement::Step::error) return impl_->database->reading_failed();
    return blobs;
}

Result<Verified> Journal::verify() const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    if (auto fine = impl_->database->check_structure(); !fine) return fine.refusal();
    Chain chain;
    const auto look_on = [](const Batch&) { return done(); };
    if (auto read = read_batches(*impl_->database, impl_->path, chain, look_on); !read) return read.refusal();
    const auto blobs = verify_blobs(*impl_->database, impl_->path);
    if (!blobs) return blobs.refusal();
    return Verified{chain.size(), chain.op_count(), *blobs, chain.hashes().front(), chain.content()};
}

}  // namespace tapwright
