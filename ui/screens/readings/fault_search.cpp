#include "ui/screens/readings/fault_search.h"

#include <algorithm>
#include <utility>

namespace tapwright::ui {
namespace {

// Weighing a cause takes about 1 µs on a desk and several on a phone, looking at it again for a measurement a sixtieth
// of that (docs/benchmarks.md): a frame has 16 ms, and draws in them too.
constexpr std::size_t causes_a_frame = 3000, causes_a_step = 1000, looks_a_cause = 60, least_a_step = 20;

}  // namespace

void FaultSearch::look(Context& context, const Id& zone) {
    const Session& session = *context.session;
    if (!seen_.still(session, zone)) {
        begin(session, zone);
        if (!is_done_ && !problem_) context.requests.another_frame();
    }
    // A page and its foot both look.
    if (is_done_ || problem_ || std::exchange(frame_, context.frame) == context.frame) return;
    for (std::size_t looked = 0; !is_done_ && looked < causes_a_frame;) looked += work(session.job());
    context.requests.another_frame();
}

void FaultSearch::begin(const Session& session, const Id& zone) {
    search_.reset();
    diagnosis_.reset();
    problem_.reset();
    next_.clear();
    shown_ = steps_ = 0;
    is_weighed_ = is_done_ = false;
    ++revision_;
    FaultQuestion question;
    question.zone = zone;
    Result<Diagnosis> begun = Diagnosis::begin(session.job(), session.derived(), question);
    if (begun)
        diagnosis_.emplace(std::move(*begun));
    else
        problem_ = begun.refusal().message;
}

std::size_t FaultSearch::work(const Job& job) {
    ++steps_;
    if (!is_weighed_) {
        is_weighed_ = !diagnosis_->step(causes_a_step);
        return causes_a_step;
    }
    if (!search_) {
        search_.emplace(job, *diagnosis_, NextOptions{});
        return diagnosis_->causes().size();
    }
    if (!search_->step()) finish();
    return std::max(diagnosis_->causes().size() / looks_a_cause, least_a_step);
}

void FaultSearch::finish() {
    next_ = search_->best();
    search_.reset();
    const auto& causes = diagnosis_->causes();
    shown_ = static_cast<std::size_t>(
        std::find_if(causes.begin(), causes.end(), [](const Cause& one) { return one.chance < least_chance_shown; }) -
        causes.begin());
    is_done_ = true;
    ++revision_;
}

bool FaultSearch::is_short() const {
    return !diagnosis_ || diagnosis_->line().causes.size() < 2 * causes_a_step;
}

// Weighing is steps of the same size, and so are the places to measure at: about twice as many as points.
float FaultSearch::share() const {
    if (!diagnosis_) return 0;
    const std::size_t steps = diagnosis_->line().causes.size() / causes_a_step + 1;
    const auto weighing = static_cast<float>(steps);
    const auto measuring = 3 * static_cast<float>(diagnosis_->line().rows.size());
    return std::min(1.0F, static_cast<float>(steps_) / (weighing + measuring));
}

}  // namespace tapwright::ui
