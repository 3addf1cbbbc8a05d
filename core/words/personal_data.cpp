#include "core/words/personal_data.h"

#include <algorithm>

#include "core/words/words.h"

namespace tapwright {

Message personal_data(const Job& job) {
    Series held;
    const JobInfo& info = job.info();
    if (info.client) held.items.emplace_back(Message("the client"));
    if (info.contact) held.items.emplace_back(Message("who to call"));
    if (info.contractor) held.items.emplace_back(Message("the contractor"));
    const auto visits = job.all<Visit>();
    const auto people =
        std::count_if(visits.begin(), visits.end(), [](const Visit& visit) { return visit.person.has_value(); });
    if (people > 0)
        held.items.emplace_back(
            plural("the name of a person on {count} visit", "the names of people on {count} visits", people));
    const auto signoffs = job.all<Signoff>();
    const auto drawn = std::count_if(signoffs.begin(), signoffs.end(),
                                     [](const Signoff& signoff) { return signoff.strokes.has_value(); });
    if (!signoffs.empty())
        held.items.emplace_back(plural("{count} name at a sign-off", "{count} names at a sign-off",
                                       static_cast<std::int64_t>(signoffs.size())));
    if (drawn > 0) held.items.emplace_back(plural("{count} drawn signature", "{count} drawn signatures", drawn));
    if (const auto photos = static_cast<std::int64_t>(job.all<Photo>().size()); photos > 0)
        held.items.emplace_back(
            plural("{count} photo as the camera made it", "{count} photos as the camera made them", photos));
    if (held.items.empty()) return Message("It holds no personal data, unless notes or names do.");
    return Message("It holds personal data: {what}. Notes may hold more. Give it only to people who may see this.",
                   {{"what", held}});
}

std::string personal_data_sentence(const Job& job) {
    return in_english(personal_data(job));
}

}  // namespace tapwright
