// The files that are handed over, made of the open job and laid beside it.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/words/words.h"
#include "platform/jobs/jobs.h"
#include "ui/screens/common/ports.h"

namespace tapwright::desktop {

// Sheets and labels as PDF and page, a sealed copy, the job as JSON with its photos in a folder beside it, or as CSV in
// a folder of its own: each under a name that nothing has, after the job's file, what it is and the day, with a number
// where that is taken. What was made before stays as it was. A sheet that was made is recorded in the job. Returns: the
// paths, the one to look at first in front. Errors: no job is open; what making and writing refuse.
Result<std::vector<std::string>> make_files(Jobs& jobs, ui::HandoverFile which, const Words& words);

}  // namespace tapwright::desktop
