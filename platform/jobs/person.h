// What the settings say of the person for a job, however a platform keeps jobs: who writes, on which visit, and how the
// screen shall look. `job` is what the platform calls the job: a path, a file's name.
#pragma once

#include <string>

#include "core/session/session.h"
#include "platform/system/settings.h"

namespace tapwright {

// The visit is that in progress, where it is still in the open job. `session` may be none.
Author author_of(const Settings& settings, const std::string& job, const Session* session);

// An empty id ends the visit.
void set_visit_of(Settings& settings, const std::string& job, const Id& visit);

// `text_scale` is kept within 1 and 3.
void set_look_of(Settings& settings, const std::string& theme, double text_scale, const std::string& language);

}  // namespace tapwright
