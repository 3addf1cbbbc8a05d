// One open SQLite connection on a job file, set up for hostile content. Private to core/journal.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/journal/journal.h"
#include "core/journal/statement.h"

struct sqlite3;

namespace tapwright {

class Database {
public:
    // Makes the file and its tables inside an open transaction, not yet committed. Refuses when something is there.
    static Result<Database> create(const std::string& path, const std::string& vfs);
    // Takes a file made by create() away again, after its Database is gone.
    static void discard(const std::string& path, const std::string& vfs);
    // Opens and locks the file, rolls an interrupted commit back, and checks all but the batches. For reading, where
    // another program holds it: a copy of our own as the file stood at one moment, in memory alone.
    static Result<Database> open(const std::string& path, Access access, const std::string& vfs);

    Database(Database&&) noexcept = default;
    Database& operator=(Database&&) noexcept;
    ~Database();

    Access access() const { return access_; }
    SqlStatement prepare(std::string_view sql) const { return SqlStatement(connection_.get(), sql); }
    // Returns: true when every statement of `sql` ran.
    bool run(const char* sql) const;
    // What the last call that failed has to say: "The disk is full."
    Message trouble() const;
    // Whether it was memory that the last call that failed had not.
    bool is_out_of_memory() const;
    // The sentence for an error while reading: damage or the disk.
    Refusal reading_failed() const;
    // The whole file, in pieces. Returns: false when it cannot be read.
    bool read_file(const std::function<void(std::string_view)>& take) const;

    Result<void> check_structure() const;

private:
    struct Close {
        void operator()(sqlite3* connection) const;
    };

    Database(sqlite3* connection, std::string path) : connection_(connection), path_(std::move(path)) {}
    static Result<Database> connect(const std::string& path, bool create, const std::string& vfs);
    Result<void> check_start(bool with_size) const;
    Result<void> lock(Access access);
    static Result<Database> open_copy(const Database& held, const std::string& vfs);
    Result<void> check_schema() const;
    Result<std::string> start_of_file() const;

    std::unique_ptr<sqlite3, Close> connection_;
    std::string path_;
    Access access_ = Access::read;
    bool keeps_rollback_file_ = false;
    bool is_held_ = false;  // lock() failed because another program has the file
};

// A path in a sentence, on one line and not endless.
Code named(const std::string& path);

// What the file holds, to the letter; opening compares it.
struct Table {
    const char* name;
    const char* sql;
};
extern const Table tables[3];

}  // namespace tapwright
