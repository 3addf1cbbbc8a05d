// SQLite is compiled for the app without any system's files (SQLITE_OS_OTHER): when it starts it asks for these two,
// and wants a file system by then.
#include <sqlite3.h>

#include "platform/web/store/vfs.h"

int sqlite3_os_init() {
    return sqlite3_vfs_register(tapwright::registered_vfs(), 1);
}

int sqlite3_os_end() {
    return SQLITE_OK;
}
