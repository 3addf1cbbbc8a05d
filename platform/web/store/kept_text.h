// A small text that is either kept whole or left as it was: the person's settings, their library.
//
// A browser's file cannot be replaced in one step, so there are two, NAME.0 and NAME.1. Each begins with the hash of
// the rest and a number; the greater number counts, and what is written next goes into the other file. A page that is
// killed in the midst of writing leaves the text from before.
#pragma once

#include <array>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "platform/web/store/handles.h"

namespace tapwright {

class KeptText {
public:
    // Both files must be open in `files` when load() is called. `files` outlives it.
    KeptText(OpenFiles& files, const std::string& name) : files_(files), names_{name + ".0", name + ".1"} {}

    const std::array<std::string, 2>& names() const { return names_; }

    // "" where nothing was kept yet, and where both files are damaged: then the browser has lost them.
    std::string load();
    // Errors: the text is not kept; the one before is.
    Result<void> save(std::string_view text);

private:
    OpenFiles& files_;
    std::array<std::string, 2> names_;
    std::uint64_t number_ = 0;  // of what was kept last; it is in the file of that parity
};

}  // namespace tapwright
