// What belongs to the person and the device and not to a job: who they are, how they like the screen, which jobs they
// had open. Kept as JSON in the user's configuration folder: $XDG_CONFIG_HOME/tapwright
// where that is an absolute path, else ~/.config/tapwright (XDG Base Directory Specification).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

struct Settings {
    std::string person;
    std::string line_v;                         // of the job made last, as typed there; "": as the field table says
    std::string theme;                          // "day", "night" or "" (as the system says)
    double text_scale = 1;                      // 1 to 3
    std::string language;                       // BCP 47; "": English
    std::vector<std::string> recent;            // absolute paths, the latest first
    std::map<std::string, std::string> visits;  // path of a job file -> id of the visit in progress
    // Where jobs lie inside the program: of each, how many changes it had when it was left, and how many of them had
    // left the device in a copy.
    struct Copied {
        std::size_t changes = 0, given_out = 0;
    };
    std::map<std::string, Copied> copied;
};

// What stands there; the defaults when nothing does, and for a value of another form. A damaged file is a sentence, and
// nothing is overwritten.
Result<Settings> load_settings();
// Leaves out the paths that are no UTF-8, which JSON cannot hold: such a job can be opened but is not remembered.
Result<void> save_settings(const Settings& settings);

// The same without a file: `where` names the text in sentences.
Result<Settings> settings_from(const std::string& text, const std::string& where);
std::string text_of(const Settings& settings);

std::string settings_path();

}  // namespace tapwright
