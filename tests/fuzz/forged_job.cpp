#include "tests/fuzz/forged_job.h"

#include <sqlite3.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <memory>
#include <vector>

#include "core/base/ensure.h"
#include "core/job/json.h"
#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/journal/undo.h"
#include "tests/journal/forge.h"

namespace tapwright::fuzz {
namespace {

class Connection {
public:
    explicit Connection(const std::string& path) {
        TAPWRIGHT_ENSURE(sqlite3_open(path.c_str(), &connection_) == SQLITE_OK);
        run("PRAGMA synchronous=OFF; PRAGMA journal_mode=MEMORY");
    }
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;
    ~Connection() { sqlite3_close(connection_); }
    // What SQLite itself refuses is not in the file.
    void run(const std::string& sql) { sqlite3_exec(connection_, sql.c_str(), nullptr, nullptr, nullptr); }

private:
    sqlite3* connection_ = nullptr;
};

std::string quoted(const std::string& text) {
    static const char digits[] = "0123456789abcdef";
    std::string made = "CAST(x'";
    for (const char c : text) {
        made += digits[static_cast<unsigned char>(c) >> 4];
        made += digits[static_cast<unsigned char>(c) & 15];
    }
    return made + "' AS TEXT)";
}

std::string hashes(const std::vector<Digest>& list) {
    std::string made;
    for (const Digest& digest : list) made += hex(digest);
    return "x'" + made + "'";
}

// ---- the log ----

class Log {
public:
    explicit Log(Draws& draws) : draws_(draws) {}

    Batch first() {
        Batch batch = empty_batch(0xa);
        batch.ops = {{"job", "job", "name", "\"J\"", {}}};
        std::size_t left = 40;
        for (const Change& change : any_job(draws_)) {
            if (left-- == 0) break;
            const std::string kind(singular(change.kind));
            if (change.op == ChangeOp::add) batch.ops.push_back({kind, change.id.text(), "", "true", {}});
            for (const auto& [field, value] : change.fields)
                if (kind != "job" || field != "name")
                    batch.ops.push_back({kind, change.id.text(), field, compact_json(value), {}});
        }
        return batch;
    }

    void take(const Batch& batch) {
        if (!check_form(batch).ok() || !replica_.absorb(batch).ok()) return;
        known_[batch.address()] = batch;
        last_ = batch.hash;
    }

    Batch next() {
        static constexpr Writer writers[] = {0xa, 0xb, 0xc};
        Batch batch = empty_batch(writers[draws_.below(3)]);
        batch.n = ++counts_[batch.writer];
        if (draws_.once_in(64)) batch.n += draws_.byte();
        batch.clock = next_clock(replica_.last_clock(), 1);
        if (draws_.once_in(16)) batch.clock = draws_.below(2) == 0 ? 0 : INT64_MAX;
        batch.person = batch.writer == 0xb ? "Bo" : "Ana";
        batch.prev = {draws_.once_in(16) ? known_.begin()->second.hash : last_};
        if (draws_.once_in(4)) make_undo(batch);
        if (batch.ops.empty())
            for (std::size_t left = 1 + draws_.below(3); left > 0; --left) batch.ops.push_back(any_op());
        batch.hash = hash_of(batch);
        return batch;
    }
    void count(Writer writer) { counts_[writer] = 1; }

private:
    Batch empty_batch(Writer writer) {
        Batch batch;
        batch.writer = writer;
        batch.n = 1;
        batch.clock = 1;
        batch.person = "Ana";
        batch.time = "2026-03-02T08:00:00Z";
        return batch;
    }

    // As a program of ours undoes, or the wrong things under the name of an undo.
    void make_undo(Batch& batch) {
        auto mine = known_.begin();
        std::advance(mine, static_cast<std::ptrdiff_t>(draws_.below(known_.size())));
        batch.undoes = mine->first;
        if (draws_.once_in(4)) return;
        const auto look = [&](OpAddress address) -> Result<Op> {
            return known_.at(address.batch()).ops[address.index];
        };
        if (const auto plan = plan_undo(replica_, mine->second, look); plan.ok()) batch.ops = plan->ops;
    }

    Op any_op() {
        const Kind kind = kind_at(draws_.below(kind_count));
        const std::string name(draws_.once_in(64) ? "gadget" : singular(kind));
        const std::string id = any_id(kind, draws_);
        const std::size_t what = draws_.below(8);
        Op op;
        if (what == 0)
            op = replica_.making(name, id);
        else if (what == 1)
            op = replica_.removing(name, id);
        else
            op = any_setting(kind, name, id);
        if (draws_.once_in(8)) op.parents = any_parents();
        return op;
    }

    Op any_setting(Kind kind, const std::string& name, const std::string& id) {
        const FieldInfo& field = fields(kind)[draws_.below(fields(kind).size())];
        std::string value = compact_json(draws_.once_in(8) ? Value() : any_value(field, draws_));
        if (draws_.once_in(32)) value = draws_.text(12);
        return replica_.setting(name, id, draws_.once_in(64) ? "colour" : field.name, value);
    }

    std::vector<OpAddress> any_parents() {
        std::vector<OpAddress> parents;
        for (std::size_t left = draws_.below(3); left > 0; --left)
            parents.push_back({0xa + draws_.below(3), static_cast<std::uint32_t>(1 + draws_.below(4)),
                               static_cast<std::uint32_t>(draws_.below(4))});
        if (!draws_.once_in(16)) std::sort(parents.begin(), parents.end());
        return parents;
    }

    Draws& draws_;
    Replica replica_;
    std::map<BatchAddress, Batch> known_;
    std::map<Writer, std::uint32_t> counts_;
    Digest last_{};
};

void add_rows(Connection& connection, const Batch& batch, std::size_t place) {
    const std::string at = std::to_string(place);
    connection.run("INSERT INTO batch VALUES(" + at + ",'" + writer_text(batch.writer) + "'," +
                   std::to_string(batch.n) + "," + std::to_string(batch.clock) + "," + quoted(batch.person) + ",''," +
                   quoted(batch.time) + ",'" + (batch.undoes ? address_text(*batch.undoes) : "") + "'," +
                   hashes(batch.prev) + "," + hashes({batch.hash}) + ")");
    for (std::size_t i = 0; i < batch.ops.size(); ++i) {
        const Op& op = batch.ops[i];
        connection.run("INSERT INTO op VALUES(" + at + "," + std::to_string(i) + "," + quoted(op.kind) + "," +
                       quoted(op.id) + "," + quoted(op.field) + "," + quoted(op.value) + ",'" +
                       addresses_text(op.parents) + "')");
    }
}

// ---- what is spoilt afterwards ----

void spoil_rows(Connection& connection, Draws& draws) {
    static const char* statements[] = {
        "UPDATE batch SET hash=x'00' WHERE place=1",
        "UPDATE batch SET place=place+1",
        "UPDATE op SET position=position+1",
        "UPDATE op SET place=99 WHERE position=0",
        "DELETE FROM op WHERE place=2",
        "DELETE FROM batch WHERE place=2",
        "UPDATE batch SET clock=-1 WHERE place=1",
        "UPDATE batch SET n=4294967297",
        "INSERT INTO blob VALUES('a', x'', x'', '')",
        "INSERT INTO blob VALUES(printf('%064d', 0), zeroblob(20000), zeroblob(3), printf('%064d', 1))",
        "CREATE VIEW v AS SELECT * FROM op",
        "CREATE TRIGGER t AFTER INSERT ON op BEGIN DELETE FROM batch; END",
        "PRAGMA user_version=2",
        "PRAGMA application_id=1",
    };
    connection.run(statements[draws.below(std::size(statements))]);
}

void write(const std::string& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

// Rather at the beginning of a page, where its kind and its cells are told.
void spoil_bytes(const std::string& path, Draws& draws) {
    constexpr std::size_t page_bytes = 16384;
    std::string bytes = bytes_of(path);
    for (std::size_t left = 1 + draws.below(4); left > 0; --left) {
        const std::size_t page = draws.below(bytes.size() / page_bytes);
        const std::size_t place = page * page_bytes + (draws.below(2) == 0 ? draws.byte() : draws.below(page_bytes));
        bytes[place] = static_cast<char>(draws.byte());
    }
    if (draws.once_in(8)) bytes.resize(bytes.size() - draws.below(page_bytes));
    write(path, bytes);
}

void lay_beside(const std::string& path, const std::string& victim, Draws& draws) {
    std::string bytes = test::rollback_file_naming(victim, bytes_of(path).size());
    // The header alone, with figures that somebody chose; or the name, with bytes that somebody chose.
    if (draws.below(2) == 0) bytes.resize(512);
    for (std::size_t left = draws.below(6); left > 0; --left)
        bytes[draws.below(2) == 0 ? draws.below(32) : draws.below(bytes.size())] = static_cast<char>(draws.byte());
    if (draws.once_in(3)) bytes += draws.rest();
    static const char* ends[] = {"-journal", "-wal", "-shm"};
    write(path + ends[draws.once_in(4) ? draws.below(3) : 0], bytes);
}

}  // namespace

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary | std::ios::ate);
    std::string bytes(static_cast<std::size_t>(file.tellg()), '\0');
    file.seekg(0).read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    TAPWRIGHT_ENSURE(file.good());
    return bytes;
}

Forged forge(const std::string& path, const std::string& victim, Draws& draws) {
    const std::size_t spoilt = draws.below(16);
    Log log(draws);
    {
        const auto created = Journal::create(path, log.first());
        TAPWRIGHT_ENSURE(created.ok());
        log.take(created->first);
        log.count(created->first.writer);
    }
    {
        Connection connection(path);
        connection.run("BEGIN");
        for (std::size_t place = 2; place < 12 && !draws.is_empty(); ++place) {
            const Batch batch = log.next();
            add_rows(connection, batch, place);
            log.take(batch);
        }
        connection.run("COMMIT");
        if (spoilt == 13) spoil_rows(connection, draws);
    }
    if (spoilt == 14) spoil_bytes(path, draws);
    if (spoilt == 15) lay_beside(path, victim, draws);
    return {spoilt == 15};
}

}  // namespace tapwright::fuzz
