#include "core/journal/connection.h"

#include <sqlite3.h>

namespace tapwright {
namespace {

constexpr int longest_row = 48 << 20;  // bytes of one row: a photo, its copy and a little
constexpr int patience_ms = 250;       // for a program that is just closing the file

}  // namespace

std::string plain_path(const std::string& path) {
    return path.starts_with("file:") || path.starts_with(":") ? "./" + path : path;
}

sqlite3_vfs* find_vfs(const std::string& vfs) {
    return sqlite3_vfs_find(vfs.empty() ? nullptr : vfs.c_str());
}

// "" when the path cannot be made whole: it is too long, or leads through what is no folder.
std::string full_path(sqlite3_vfs* vfs, const std::string& path) {
    std::string full(static_cast<std::size_t>(vfs->mxPathname) + 1, '\0');
    const int made = vfs->xFullPathname(vfs, path.c_str(), vfs->mxPathname + 1, full.data()) & 0xff;
    full.resize(made == SQLITE_OK ? full.find('\0') : 0);
    return full;
}

bool is_there(sqlite3_vfs* vfs, const std::string& path) {
    const std::string full = full_path(vfs, path);
    int exists = 0;
    return !full.empty() && vfs->xAccess(vfs, full.c_str(), SQLITE_ACCESS_EXISTS, &exists) == SQLITE_OK && exists != 0;
}

void harden(sqlite3* connection) {
    sqlite3_db_config(connection, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
    sqlite3_db_config(connection, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
    sqlite3_db_config(connection, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
    sqlite3_db_config(connection, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
    sqlite3_db_config(connection, SQLITE_DBCONFIG_DQS_DDL, 0, nullptr);
    sqlite3_db_config(connection, SQLITE_DBCONFIG_DQS_DML, 0, nullptr);
    sqlite3_limit(connection, SQLITE_LIMIT_LENGTH, longest_row);
    sqlite3_limit(connection, SQLITE_LIMIT_ATTACHED, 1);  // VACUUM INTO needs it
    sqlite3_limit(connection, SQLITE_LIMIT_SQL_LENGTH, 100000);
    sqlite3_limit(connection, SQLITE_LIMIT_COLUMN, 32);
    sqlite3_limit(connection, SQLITE_LIMIT_EXPR_DEPTH, 20);
    sqlite3_limit(connection, SQLITE_LIMIT_TRIGGER_DEPTH, 1);
    sqlite3_limit(connection, SQLITE_LIMIT_WORKER_THREADS, 0);
    sqlite3_busy_timeout(connection, patience_ms);
}

sqlite3_file* file_of(sqlite3* connection) {
    sqlite3_file* file = nullptr;
    const int found = sqlite3_file_control(connection, "main", SQLITE_FCNTL_FILE_POINTER, &file);
    return found == SQLITE_OK && file != nullptr && file->pMethods != nullptr ? file : nullptr;
}

}  // namespace tapwright
