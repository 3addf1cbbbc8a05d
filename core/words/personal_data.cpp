#include "core/words/personal_data.h"

#include <algorithm>
#include <vector>

#include "core/base/text.h"

namespace tapwright {

std::string personal_data_sentence(const Job& job) {
    std::vector<std::string> held;
    const JobInfo& info = job.info();
    if (info.client) held.emplace_back("the client");
    if (info.contact) held.emplace_back("whom to call");
    if (info.contractor) held.emplace_back("the contractor");
    const auto visits = job.all<Visit>();
    const auto people = static_cast<std::size_t>(
        std::count_if(visits.begin(), visits.end(), [](const Visit& visit) { return visit.person.has_value(); }));
    if (people > 0) held.push_back("the names of people on " + counted(people, "visit"));
    const auto signoffs = job.all<Signoff>();
    const auto drawn = static_cast<std::size_t>(std::count_if(
        signoffs.begin(), signoffs.end(), [](const Signoff& signoff) { return signoff.strokes.has_value(); }));
    if (!signoffs.empty()) held.push_back(counted(signoffs.size(), "name") + " at a sign-off");
    if (drawn > 0) held.push_back(counted(drawn, "drawn signature"));
    if (!job.all<Photo>().empty())
        held.push_back(counted(job.all<Photo>().size(), "photo") + " as the camera made them");
    if (held.empty()) return "It holds no personal data but what notes and names may say.";
    return "It holds personal data: " + list_in_words(held) +
           ", and what notes may say. Hand it only to those who may have them.";
}

}  // namespace tapwright
