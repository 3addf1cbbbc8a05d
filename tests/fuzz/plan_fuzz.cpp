// libFuzzer on plans: whatever a job and a wish hold, trial, fit and survey answer in words, what they promise can be
// made real, and a figure in an answer is a figure.
#include <cmath>

#include "core/job/json.h"
#include "core/plan/fit.h"
#include "core/plan/survey.h"
#include "core/plan/trial.h"
#include "core/session/decide.h"
#include "core/words/fit_text.h"
#include "core/words/words.h"
#include "tests/fuzz/draws.h"

namespace {

using namespace tapwright;
using namespace tapwright::fuzz;

const Author author{"Ana", ""};
const Stamp stamp{"2026-03-02T08:00:00Z", 1772438400000, 7};

Result<Decided> decided(const Job& job, const ChangeList& changes) {
    auto made = decide(job, Command{.changes = changes, .fill_in = false, .place = {}}, author, stamp,
                       [](const Id&) { return false; });
    if (!made) TAPWRIGHT_ENSURE(!in_english(made.refusal()).empty());
    return made;
}

bool is_figure(const std::optional<Watts>& watts) {
    return !watts || std::isfinite(watts->value());
}

void try_trial(const Job& job, const Derived& derived, Draws& draws) {
    const ChangeList wished = any_changes(draws, 6);
    const auto made = decided(job, trial_changes(job, wished));
    if (!made) return;
    const Derived after = derive(made->after);
    for (const LoadPair& pair : compare(job, derived, made->after, after).loads)
        TAPWRIGHT_ENSURE(is_figure(pair.can_add_before) && is_figure(pair.can_add_after));
    (void)decided(job, made_real(job, wished, draws.below(2) == 0 ? MadeReal::as_left : MadeReal::as_planned));
}

FitRequest any_request(Draws& draws) {
    FitRequest request{.zone = Id(any_id(Kind::zone, draws))};
    for (std::size_t left = draws.below(4); left > 0; --left) {
        FitAddition addition{.type = Id(any_id(Kind::speaker_type, draws)), .count = 1 + draws.below(1000)};
        if (draws.below(2) == 1) addition.count = 1 + addition.count % 4;
        if (draws.once_in(3)) addition.tap = Watts(any_number(*find_field(Kind::point, "tap_w"), draws));
        if (draws.once_in(3)) addition.room = Id(any_id(Kind::room, draws));
        if (draws.once_in(3)) addition.fed_from = Id(any_id(Kind::point, draws));
        request.add.push_back(addition);
    }
    if (draws.once_in(3)) request.leave.push_back(Id(any_id(Kind::point, draws)));
    return request;
}

void try_fit(const Job& job, const Derived& derived, const FitRequest& request) {
    const auto made = fit(job, derived, request);
    if (!made) {
        TAPWRIGHT_ENSURE(!in_english(made.refusal()).empty());
        return;
    }
    TAPWRIGHT_ENSURE(!fit_text(job, request, *made).empty() || made->options.empty());
    for (const FitOption& option : made->options) {
        TAPWRIGHT_ENSURE(std::isfinite(option.load.value()) && std::isfinite(option.worst.value()));
        // What it promises can be made real.
        TAPWRIGHT_ENSURE(decided(job, changes_of(job, request, option)).ok());
    }
}

void try_survey(const Job& job, const Derived& derived, Draws& draws) {
    SurveyRequest request;
    if (draws.once_in(2)) request.wanted = SoundLevel(any_number(*find_field(Kind::room, "wanted_dba"), draws));
    const auto made =
        survey(job, derived, Id(any_id(Kind::room, draws)), Id(any_id(Kind::speaker_type, draws)), request);
    if (!made) {
        TAPWRIGHT_ENSURE(!in_english(made.refusal()).empty());
        return;
    }
    for (const SurveyTap& tap : made->taps) TAPWRIGHT_ENSURE(std::isfinite(tap.room.value()));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Draws draws(data, size);
    const std::size_t what = draws.below(4);
    // The wish is read first, so that it is not what is left over from the job.
    const FitRequest request = any_request(draws);
    Draws for_survey = draws;
    const auto made = decided(Job(), any_job(draws));
    if (!made) return 0;
    const Derived derived = derive(made->after);
    if (what < 2) try_fit(made->after, derived, request);
    if (what == 2) try_trial(made->after, derived, draws);
    if (what == 3) try_survey(made->after, derived, for_survey);
    return 0;
}
