// What a Journal holds. Private to core/journal; split over journal.cpp, blobs.cpp and seal.cpp.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "core/journal/chain.h"
#include "core/journal/database.h"
#include "core/journal/journal.h"
#include "core/journal/store.h"

namespace tapwright {

class Journal::Impl {
public:
    std::string path;
    std::string vfs;
    Access access = Access::read;
    std::optional<Database> database;  // none: closed after an error, see `broken`
    BatchWriter writer;                // its statements end before the database does
    Chain chain;
    std::optional<Writer> writing_as;
    std::optional<Refusal> broken;

    // Refuses when the file was closed after an error, or may only be read.
    Result<void> can_read() const;
    Result<void> can_write() const;

    // After an I/O error: close, open and read again. Returns: how many batches are there now; or the refusal, which
    // every later call will meet too, when the file cannot be read or is not what it was.
    Result<std::size_t> recover(const Message& trouble);
    // Runs `write` in a transaction. Returns: true when it is on the disk. False: the database has been recovered or is
    // broken, and `trouble` says what happened.
    template <class Write>
    Result<bool> in_transaction(const Write& write, Message& trouble) {
        if (database->run("BEGIN IMMEDIATE") && write() && database->run("COMMIT")) return true;
        trouble = database->trouble();
        TAPWRIGHT_PASS(recover(trouble));
        return false;
    }
};

}  // namespace tapwright
