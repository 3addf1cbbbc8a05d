// Batches in and out of an open database. Private to core/journal.
#pragma once

#include <cstdint>

#include "core/journal/chain.h"
#include "core/journal/database.h"

namespace tapwright {

// The statements that keep a batch, prepared once.
class BatchWriter {
public:
    BatchWriter() = default;
    explicit BatchWriter(const Database& database);
    // Returns: false when the database reports an error. Requires: a transaction is open.
    bool insert(const Batch& batch, std::size_t place);

private:
    SqlStatement insert_batch_;
    SqlStatement insert_op_;
};

// Reads every batch in the order of `place`, checks it against `chain`, adds it there and hands it to `visit`.
// Refuses damage, naming `path`. What `visit` refuses is passed on.
Result<void> read_batches(const Database& database, const std::string& path, Chain& chain, const BatchVisitor& visit);

// One batch, with at most `most_ops` of its ops. Requires: it is there (as opening has seen).
Result<Batch> read_batch(const Database& database, const std::string& path, std::size_t place, std::size_t most_ops);
Result<Op> read_op(const Database& database, const std::string& path, std::size_t place, std::uint32_t position);

// What is wrong with a file that is damaged, in a sentence; and what to do.
Refusal damaged(const std::string& path, const Message& what);

}  // namespace tapwright
