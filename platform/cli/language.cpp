#include "platform/cli/language.h"

#include <cstdlib>

namespace tapwright::cli {

const Language& language_of_environment() {
    for (const char* name : {"TAPWRIGHT_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"}) {
        const char* said = std::getenv(name);
        if (said && *said) return language_for(said);
    }
    return english();
}

}  // namespace tapwright::cli
