// Which batches are changes since the last handover.
#include <map>

#include "core/session/changes.h"

namespace tapwright {
namespace {

const Visit* last_handover(const Job& job) {
    const Visit* last = nullptr;
    for (const Visit& visit : job.all<Visit>())
        if (visit.purpose == Purpose::handover && visit.date && (!last || *visit.date >= *last->date)) last = &visit;
    return last;
}

// One batch of the log.
struct Step {
    BatchAddress address;
    std::optional<BatchAddress> undoes;
    std::string day;
    bool is_nothing = false;  // taken back since, or the taking back
};

template <class IsSince>
void cancel_what_was_taken_back(std::vector<Step>& steps, const IsSince& is_since) {
    std::map<BatchAddress, std::size_t> places;
    for (std::size_t at = 0; at < steps.size(); ++at) places.emplace(steps[at].address, at);
    // From the end: a taking back that was taken back itself (a redo) takes nothing back any more.
    for (std::size_t at = steps.size(); at-- > 0;) {
        if (steps[at].is_nothing || !steps[at].undoes || !is_since(at)) continue;
        const auto undone = places.find(*steps[at].undoes);
        if (undone == places.end() || !is_since(undone->second)) continue;
        steps[at].is_nothing = steps[undone->second].is_nothing = true;
    }
}

}  // namespace

Result<std::vector<ChangeLine>> changes_since_handover(const Session& session) {
    const Visit* handover = last_handover(session.job());
    if (!handover) return std::vector<ChangeLine>();
    std::vector<Step> steps;
    std::size_t last_of_visit = 0;
    const auto look = [&](const Batch& batch) -> Result<void> {
        if (batch.visit == handover->id.text()) last_of_visit = steps.size();
        steps.push_back({batch.address(), batch.undoes, batch.time.substr(0, 10)});
        return done();
    };
    TAPWRIGHT_PASS(session.for_each_batch(look));
    // What made the job is no change.
    const auto is_since = [&](std::size_t at) {
        return at > 0 && (last_of_visit > 0 ? at > last_of_visit : steps[at].day > handover->date->text);
    };
    cancel_what_was_taken_back(steps, is_since);
    return changes_of(session, [&](const Batch& batch, std::size_t at) {
        return batch.visit != handover->id.text() && is_since(at) && !steps[at].is_nothing;
    });
}

}  // namespace tapwright
