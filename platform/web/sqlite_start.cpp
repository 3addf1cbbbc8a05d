// SQLite is compiled for the app without any system's files (SQLITE_OS_OTHER): it asks for these two, and gets its file
// system from platform/web/store/vfs.h before a job is opened.
#include <sqlite3.h>

int sqlite3_os_init() {
    return SQLITE_OK;
}

int sqlite3_os_end() {
    return SQLITE_OK;
}
