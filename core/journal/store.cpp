#include "core/journal/store.h"

#include <cstring>
#include <limits>

#include "core/base/text.h"

namespace tapwright {
namespace {

constexpr std::string_view select_batch =
    "SELECT place, writer, n, clock, person, visit, time, undoes, prev, hash FROM batch ";
constexpr std::string_view select_op = "SELECT place, position, kind, id, field, value, parents FROM op ";

std::string sql(std::string_view select, std::string_view rest) {
    return std::string(select) + std::string(rest);
}

std::string_view bytes_of(const Digest& hash) {
    return {reinterpret_cast<const char*>(hash.data()), hash.size()};
}

std::vector<Digest> hashes_in(std::string_view bytes) {
    std::vector<Digest> hashes(bytes.size() / sizeof(Digest));
    if (!hashes.empty()) std::memcpy(hashes.data(), bytes.data(), hashes.size() * sizeof(Digest));
    return hashes;
}

// A batch without its ops. Nothing: some column has not the form a writer of ours gives it.
std::optional<Batch> batch_in(const SqlStatement& row) {
    const auto writer = writer_from(row.text(1));
    const std::int64_t n = row.number(2);
    const auto undoes = batch_address_from(row.text(7));
    const std::string_view prev = row.text(8);
    const std::string_view hash = row.text(9);
    const bool fits = writer && n > 0 && n <= std::numeric_limits<std::uint32_t>::max() &&
                      (undoes || row.text(7).empty()) && prev.size() % sizeof(Digest) == 0 &&
                      hash.size() == sizeof(Digest);
    if (!fits) return std::nullopt;
    Batch batch;
    batch.writer = *writer;
    batch.n = static_cast<std::uint32_t>(n);
    batch.clock = row.number(3);
    batch.person = row.text(4);
    batch.visit = row.text(5);
    batch.time = row.text(6);
    batch.undoes = undoes;
    batch.prev = hashes_in(prev);
    batch.hash = hashes_in(hash).front();
    return batch;
}

std::optional<Op> op_in(const SqlStatement& row) {
    auto parents = addresses_from(row.text(6));
    if (!parents) return std::nullopt;
    return Op{std::string(row.text(2)), std::string(row.text(3)), std::string(row.text(4)), std::string(row.text(5)),
              std::move(*parents)};
}

Refusal lost(const std::string& path, std::size_t place) {
    return damaged(path, Message("Change number {number} cannot be read any more.", {{"number", place}}));
}

}  // namespace

Refusal damaged(const std::string& path, const Message& what) {
    return {sentences({Message("{file} is damaged.", {{"file", named(path)}}), what,
                       Message("Restore it from a sealed copy or a backup; nothing was changed.")})};
}

// ---- writing ----------------------------------------------------------------------------------------

BatchWriter::BatchWriter(const Database& database)
    : insert_batch_(database.prepare("INSERT INTO batch VALUES (?,?,?,?,?,?,?,?,?,?)")),
      insert_op_(database.prepare("INSERT INTO op VALUES (?,?,?,?,?,?,?)")) {}

bool BatchWriter::insert(const Batch& batch, std::size_t place) {
    const std::string writer = writer_text(batch.writer);
    const std::string undoes = batch.undoes ? address_text(*batch.undoes) : std::string();
    std::string prev;
    for (const Digest& hash : batch.prev) prev += bytes_of(hash);
    const auto number = static_cast<std::int64_t>(place);
    insert_batch_.bind(0, number).bind_text(1, writer).bind(2, batch.n).bind(3, batch.clock);
    insert_batch_.bind_text(4, batch.person).bind_text(5, batch.visit).bind_text(6, batch.time);
    insert_batch_.bind_text(7, undoes).bind_bytes(8, prev).bind_bytes(9, bytes_of(batch.hash));
    bool is_kept = insert_batch_.step() == SqlStatement::Step::done;
    insert_batch_.reset();
    for (std::size_t index = 0; is_kept && index < batch.ops.size(); ++index) {
        const Op& op = batch.ops[index];
        const std::string parents = addresses_text(op.parents);
        insert_op_.bind(0, number).bind(1, static_cast<std::int64_t>(index)).bind_text(2, op.kind);
        insert_op_.bind_text(3, op.id).bind_text(4, op.field).bind_text(5, op.value).bind_text(6, parents);
        is_kept = insert_op_.step() == SqlStatement::Step::done;
        insert_op_.reset();
    }
    return is_kept;
}

// ---- reading ----------------------------------------------------------------------------------------

Result<void> read_batches(const Database& database, const std::string& path, Chain& chain, const BatchVisitor& visit) {
    SqlStatement batches = database.prepare(sql(select_batch, "ORDER BY place"));
    SqlStatement ops = database.prepare(sql(select_op, "ORDER BY place, position"));
    SqlStatement::Step batch_step = batches.step();
    SqlStatement::Step op_step = ops.step();
    for (; batch_step == SqlStatement::Step::row; batch_step = batches.step()) {
        const auto place = static_cast<std::int64_t>(chain.size() + 1);
        std::optional<Batch> batch = batch_in(batches);
        if (!batch || batches.number(0) != place || chain.index().find(batch->address()))
            return damaged(path, Message("Change number {number} is unreadable, twice there or missing.",
                                         {{"number", chain.size() + 1}}));
        for (; op_step == SqlStatement::Step::row && ops.number(0) == place; op_step = ops.step()) {
            std::optional<Op> op = op_in(ops);
            if (!op || ops.number(1) != static_cast<std::int64_t>(batch->ops.size()))
                return damaged(path, Message("Change number {number} has an unreadable or missing part.",
                                             {{"number", chain.size() + 1}}));
            batch->ops.push_back(std::move(*op));
        }
        if (op_step == SqlStatement::Step::error) return database.reading_failed();
        if (auto fine = chain.check(*batch); !fine) return damaged(path, fine.refusal().message);
        chain.add(*batch);
        TAPWRIGHT_PASS(visit(*batch));
    }
    if (batch_step == SqlStatement::Step::error || op_step == SqlStatement::Step::error)
        return database.reading_failed();
    if (op_step == SqlStatement::Step::row) return damaged(path, Message("It has parts of a change that is missing."));
    if (chain.size() == 0) return damaged(path, Message("It holds no change at all."));
    return done();
}

Result<Batch> read_batch(const Database& database, const std::string& path, std::size_t place, std::size_t most_ops) {
    const auto number = static_cast<std::int64_t>(place);
    SqlStatement row = database.prepare(sql(select_batch, "WHERE place = ?"));
    std::optional<Batch> batch;
    if (row.bind(0, number).step() == SqlStatement::Step::row) batch = batch_in(row);
    if (!batch) return lost(path, place);
    SqlStatement ops = database.prepare(sql(select_op, "WHERE place = ? ORDER BY position LIMIT ?"));
    ops.bind(0, number).bind(1, static_cast<std::int64_t>(most_ops));
    SqlStatement::Step step;
    while ((step = ops.step()) == SqlStatement::Step::row) {
        std::optional<Op> op = op_in(ops);
        if (!op) return lost(path, place);
        batch->ops.push_back(std::move(*op));
    }
    if (step == SqlStatement::Step::error) return database.reading_failed();
    return *std::move(batch);
}

Result<Op> read_op(const Database& database, const std::string& path, std::size_t place, std::uint32_t position) {
    SqlStatement row = database.prepare(sql(select_op, "WHERE place = ? AND position = ?"));
    row.bind(0, static_cast<std::int64_t>(place)).bind(1, position);
    std::optional<Op> op;
    if (row.step() == SqlStatement::Step::row) op = op_in(row);
    if (!op) return lost(path, place);
    return *std::move(op);
}

}  // namespace tapwright
