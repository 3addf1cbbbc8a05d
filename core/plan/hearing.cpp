#include "core/plan/hearing.h"

#include <algorithm>
#include <cmath>

namespace tapwright {
namespace {

constexpr double niosh_starts = 85;
constexpr double osha_starts = 90;
// OSHA's table ends here: a quarter of an hour or less.
constexpr double osha_ends = 115;

}  // namespace

double niosh_hours(SoundLevel level) {
    return std::min(24.0, 8 / std::pow(2.0, (level.value() - niosh_starts) / 3));
}

double osha_hours(SoundLevel level) {
    return std::min(24.0, 8 / std::pow(2.0, (level.value() - osha_starts) / 5));
}

std::optional<HearingLimits> hearing_limits(SoundLevel level) {
    constexpr double rounding = 1e-9;  // a rounding error below the limit is the limit
    if (level.value() < niosh_starts - rounding) return std::nullopt;
    HearingLimits limits{.level = level, .niosh_hours = niosh_hours(level), .osha_hours = {}};
    limits.is_beyond_osha_table = level.value() > osha_ends;
    if (!limits.is_beyond_osha_table && level.value() >= osha_starts - rounding) limits.osha_hours = osha_hours(level);
    return limits;
}

}  // namespace tapwright
