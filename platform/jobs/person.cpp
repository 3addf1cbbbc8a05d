#include "platform/jobs/person.h"

#include <algorithm>

namespace tapwright {

Author author_of(const Settings& settings, const std::string& job, const Session* session) {
    const auto visit = settings.visits.find(job);
    const bool is_there = visit != settings.visits.end() && session && Id::is_valid(visit->second) &&
                          session->job().has(Kind::visit, Id(visit->second));
    return {settings.person, is_there ? visit->second : std::string()};
}

void set_visit_of(Settings& settings, const std::string& job, const Id& visit) {
    if (visit == Id())
        settings.visits.erase(job);
    else
        settings.visits[job] = visit.text();
}

void set_look_of(Settings& settings, const std::string& theme, double text_scale, const std::string& language) {
    settings.theme = theme;
    settings.language = language;
    settings.text_scale = std::clamp(text_scale, 1.0, 3.0);
}

}  // namespace tapwright
