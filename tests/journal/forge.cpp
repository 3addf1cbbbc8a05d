#include "tests/journal/forge.h"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <cstdint>
#include <filesystem>

#include "core/journal/journal.h"
#include "tests/journal/copy.h"
#include "tests/journal/temporary.h"

namespace tapwright::test {
namespace {

constexpr std::string_view magic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
constexpr std::uint32_t page_bytes = 16384;

std::string number(std::uint32_t value) {
    std::string bytes(4, '\0');
    for (int i = 0; i < 4; ++i) bytes[static_cast<std::size_t>(i)] = static_cast<char>(value >> (24 - 8 * i));
    return bytes;
}

class Connection {
public:
    explicit Connection(const std::string& path) { REQUIRE(sqlite3_open(path.c_str(), &connection_) == SQLITE_OK); }
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;
    ~Connection() { sqlite3_close(connection_); }
    void run(const std::string& sql) {
        char* message = nullptr;
        const int result = sqlite3_exec(connection_, sql.c_str(), nullptr, nullptr, &message);
        CHECK_MESSAGE(result == SQLITE_OK, (message ? message : ""));
        sqlite3_free(message);
    }

private:
    sqlite3* connection_ = nullptr;
};

// Where a photo's hash is in the index: the one place of two that is not followed by the photo itself.
std::size_t place_in_index(const std::string& bytes, const std::string& hash) {
    std::vector<std::size_t> places;
    for (std::size_t at = bytes.find(hash); at != std::string::npos; at = bytes.find(hash, at + 1))
        places.push_back(at);
    // A leaf page of an index begins with the byte 10, one of a table with 13: SQLite's file format, 1.6.
    for (const std::size_t at : places)
        if (bytes[at / page_bytes * page_bytes] == 10 && at / page_bytes != 0) return at;
    REQUIRE(false);
    return 0;
}

}  // namespace

void forge_job(const std::string& path, const std::vector<Batch>& batches) {
    auto created = Journal::create(path, batches.front());
    REQUIRE(created.ok());
    std::vector<Batch> more;
    Digest before = created->first.hash;
    for (std::size_t i = 1; i < batches.size(); ++i) {
        Batch batch = batches[i];
        batch.n = 1;
        for (std::size_t j = 0; j < i; ++j) batch.n += batches[j].writer == batch.writer ? 1 : 0;
        batch.prev = {before};
        batch.hash = hash_of(batch);
        before = batch.hash;
        more.push_back(batch);
    }
    REQUIRE(created->journal.take(more).ok());
}

std::string rollback_file_naming(const std::string& victim, std::size_t job_bytes) {
    const auto pages = static_cast<std::uint32_t>(job_bytes / page_bytes);
    std::string bytes(magic);
    bytes += number(0) + number(1234) + number(pages) + number(512) + number(page_bytes);
    bytes.resize(512, '\0');
    std::uint32_t sum = 0;
    for (const char c : victim) sum += static_cast<std::uint32_t>(c);
    const std::uint32_t lock_page = 0x40000000 / page_bytes + 1;
    bytes += number(lock_page) + victim + number(static_cast<std::uint32_t>(victim.size())) + number(sum);
    return bytes + std::string(magic);
}

void cut_off_commit(const std::string& job, const std::string& made) {
    const std::string work = made + ".work";
    write_file(work, read_file(job));
    {
        Connection connection(work);
        connection.run("PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=FULL; PRAGMA cache_size=1; BEGIN");
        // More than its memory holds, so it begins to write into the file.
        for (int i = 0; i < 40; ++i)
            connection.run("INSERT INTO blob VALUES('" + std::to_string(i) + "', zeroblob(60000), x'', '')");
        connection.run("UPDATE batch SET person='Eve'");
        write_file(made, read_file(work));
        write_file(made + "-journal", read_file(work + "-journal"));
        connection.run("ROLLBACK");
    }
    std::filesystem::remove(work);
    std::filesystem::remove(work + "-journal");
    REQUIRE(read_file(made) != read_file(job));
}

void hide_in_wal(const std::string& job, const std::string& made) {
    Batch next;
    {
        std::vector<Digest> tips;
        const auto look = [&](const Batch& batch) { return tips = {batch.hash}, done(); };
        REQUIRE(Journal::open(job, Access::read, look).ok());
        next = draft(0xcc, {op("job", "job", "notes", "\"from the WAL\"")}, "Ann", std::int64_t{1} << 40);
        next.n = 1;
        next.prev = tips;
        next.hash = hash_of(next);
    }
    const std::string work = made + ".work";
    write_file(work, read_file(job));
    {
        Connection connection(work);
        connection.run("PRAGMA journal_mode=WAL; PRAGMA wal_autocheckpoint=0");
        connection.run("INSERT INTO batch SELECT max(place) + 1, '" + writer_text(next.writer) + "', 1, " +
                       std::to_string(next.clock) + ", 'Ann', '', '" + next.time + "', '', x'" +
                       hex(next.prev.front()) + "', x'" + hex(next.hash) + "' FROM batch");
        connection.run("INSERT INTO op SELECT max(place), 0, 'job', 'job', 'notes', '\"from the WAL\"', '' FROM batch");
        std::string bytes = read_file(work);
        bytes[18] = bytes[19] = 1;
        write_file(made, bytes);
        write_file(made + "-wal", read_file(work + "-wal"));
    }
    for (const char* end : {"", "-wal", "-shm"}) std::filesystem::remove(work + end);
}

void swap_in_photo_index(const std::string& job, const std::string& hash, const std::string& other) {
    std::string bytes = read_file(job);
    const std::size_t at = place_in_index(bytes, hash);
    const std::size_t other_at = place_in_index(bytes, other);
    // The entries must stay in order, so the rows they lead to change places: the last byte of an entry, which holds
    // the hash and the row's number.
    std::swap(bytes[at + hash.size()], bytes[other_at + other.size()]);
    write_file(job, bytes);
}

void flip_in_photo_index(const std::string& job, const std::string& hash) {
    std::string bytes = read_file(job);
    char& byte = bytes[place_in_index(bytes, hash) + hash.size() - 1];
    byte = static_cast<char>(byte ^ 1);
    write_file(job, bytes);
}

}  // namespace tapwright::test
