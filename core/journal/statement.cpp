#include "core/journal/statement.h"

#include <sqlite3.h>

namespace tapwright {

void SqlStatement::Finalize::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}

SqlStatement::SqlStatement(sqlite3* connection, std::string_view sql) {
    sqlite3_stmt* statement = nullptr;
    sqlite3_prepare_v3(connection, sql.data(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement,
                       nullptr);
    statement_.reset(statement);
}

SqlStatement::Step SqlStatement::step() {
    if (!statement_ || binding_failed_) return Step::error;
    const int result = sqlite3_step(statement_.get());
    return result == SQLITE_ROW ? Step::row : result == SQLITE_DONE ? Step::done : Step::error;
}

void SqlStatement::reset() {
    sqlite3_reset(statement_.get());
}

SqlStatement& SqlStatement::bound(int result) {
    binding_failed_ = binding_failed_ || result != SQLITE_OK;
    return *this;
}

SqlStatement& SqlStatement::bind(int parameter, std::int64_t number) {
    return bound(sqlite3_bind_int64(statement_.get(), parameter + 1, number));
}

SqlStatement& SqlStatement::bind_text(int parameter, std::string_view text) {
    // An empty view may have no address, and SQLite would take that for NULL.
    const char* start = text.empty() ? "" : text.data();
    return bound(sqlite3_bind_text64(statement_.get(), parameter + 1, start, text.size(), SQLITE_STATIC, SQLITE_UTF8));
}

SqlStatement& SqlStatement::bind_bytes(int parameter, std::string_view bytes) {
    const char* start = bytes.empty() ? "" : bytes.data();
    return bound(sqlite3_bind_blob64(statement_.get(), parameter + 1, start, bytes.size(), SQLITE_STATIC));
}

std::int64_t SqlStatement::number(int column) const {
    return sqlite3_column_int64(statement_.get(), column);
}

std::string_view SqlStatement::text(int column) const {
    const void* start = sqlite3_column_blob(statement_.get(), column);
    const int size = sqlite3_column_bytes(statement_.get(), column);
    if (start == nullptr || size <= 0) return {};
    return {static_cast<const char*>(start), static_cast<std::size_t>(size)};
}

}  // namespace tapwright
