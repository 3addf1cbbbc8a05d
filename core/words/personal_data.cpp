#include "core/words/personal_data.h"

#include <algorithm>
#include <vector>

namespace tapwright {
namespace {

template <class Range, class Holds>
std::int64_t how_many(const Range& records, const Holds& holds) {
    return std::count_if(records.begin(), records.end(), holds);
}

std::vector<Message> personal_data_held(const Job& job) {
    std::vector<Message> held;
    const JobInfo& info = job.info();
    if (info.client) held.push_back(Message("the client"));
    if (info.contact || info.after_hours) held.push_back(Message("whom to call"));
    if (info.responsible) held.push_back(Message("the responsible person"));
    if (info.instructed) held.push_back(Message("who was instructed"));
    if (info.contractor) held.push_back(Message("the contractor"));
    const auto visits = how_many(job.all<Visit>(), [](const Visit& visit) { return visit.person.has_value(); });
    const auto signoffs = static_cast<std::int64_t>(job.all<Signoff>().size());
    const auto drawn = how_many(job.all<Signoff>(), [](const Signoff& signoff) { return signoff.strokes.has_value(); });
    const auto photos = static_cast<std::int64_t>(job.all<Photo>().size());
    if (visits > 0)
        held.push_back(plural("the names of people on {count} visit", "the names of people on {count} visits", visits));
    if (signoffs > 0) held.push_back(plural("{count} name at a sign-off", "{count} names at sign-offs", signoffs));
    if (drawn > 0) held.push_back(plural("{count} drawn signature", "{count} drawn signatures", drawn));
    if (photos > 0) held.push_back(plural("{count} photo as taken", "{count} photos as taken", photos));
    return held;
}

}  // namespace

Message personal_data(const Job& job) {
    const std::vector<Message> held = personal_data_held(job);
    if (held.empty()) return Message("It holds no personal data, apart from what notes and names may say.");
    return sentences({Message("It holds personal data: {data}.", {{"data", series(held)}}),
                      Message("Notes may hold more. Give it only to people who may have them.")});
}

}  // namespace tapwright
