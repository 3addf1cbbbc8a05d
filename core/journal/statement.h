// A prepared SQL statement. Parameters and columns count from 0. Private to core/journal.
#pragma once

#include <cstdint>
#include <memory>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace tapwright {

// Bound texts must live until the next reset().
class SqlStatement {
public:
    SqlStatement() = default;
    SqlStatement(sqlite3* connection, std::string_view sql);

    // A statement that could not be prepared, or given a parameter, steps into an error from then on.
    enum class Step { row, done, error };
    Step step();
    void reset();

    SqlStatement& bind(int parameter, std::int64_t number);
    SqlStatement& bind_text(int parameter, std::string_view text);
    SqlStatement& bind_bytes(int parameter, std::string_view bytes);

    std::int64_t number(int column) const;
    std::string_view text(int column) const;  // TEXT or BLOB, as stored; holds until the next step()

private:
    SqlStatement& bound(int result);
    struct Finalize {
        void operator()(sqlite3_stmt* statement) const;
    };
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
    bool binding_failed_ = false;
};

}  // namespace tapwright
