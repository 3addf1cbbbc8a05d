#include "core/readings/account.h"

#include <algorithm>

namespace tapwright {
namespace {

// Whether a reading speaks whatever stood before it: it shows more than the record has, or some tap in it is not
// known, so that nothing but the reading covers that tap.
bool speaks_for_itself(const Judgement& judgement) {
    return judgement.verdict == Verdict::more_load || judgement.verdict == Verdict::shorted ||
           judgement.verdict == Verdict::not_judged;
}

}  // namespace

Watts Account::unrecorded() const {
    return standing_ ? std::max(Watts(0), standing_->beyond - standing_->found) : Watts(0);
}

// What was unrecorded when the reading `now` was taken. What had been found by then is in the record `now` was held
// against; what the record gained since the standing reading is taken as found first, as far as anything was found.
// Behind an attenuator it gains less than is found, behind one that is off nothing: that is taken as found before, so
// that what is unrecorded is never said to be less than it is.
Watts Account::before(const Entry& now, const FoundSince& earlier) const {
    const Watts gained = std::max(Watts(0), now.recorded - standing_->recorded);
    Watts found = earlier.hidden;
    if (earlier.arriving > Watts(0)) found += earlier.shown * std::min(1.0, gained / earlier.arriving);
    return std::max(Watts(0), standing_->beyond - found);
}

void Account::enter(std::uint32_t reading, const Assessment& a, Watts found, const FoundSince& earlier) {
    const Judgement& judgement = a.judgement;
    // Unknown taps leave a reading without a verdict; it is believed all the same, and valid where nothing speaks
    // against it.
    const bool is_believed = judgement.verdict != Verdict::not_judged || judgement.unjudged == Unjudged::taps_unknown;
    if (!is_believed) return;
    latest_ = reading;
    // An open line shows nothing of what it fed.
    if (!judgement.beyond || judgement.verdict == Verdict::open) return;
    const double v = a.outlook->line_v.value();
    const Entry now{reading, *judgement.beyond, Watts(v * v * a.known_s), found};
    const Watts was = standing_ ? before(now, earlier) : Watts(0);
    if (judgement.is_valid) {
        latest_valid_ = reading;
        if (speaks_for_itself(judgement) || now.beyond <= was) standing_ = now;
    } else if (speaks_for_itself(judgement) && now.beyond > was) {
        standing_ = now;
    }
}

}  // namespace tapwright
