#include "core/plan/hearing.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"

namespace tapwright {
namespace {

constexpr double niosh_starts = 85;
constexpr double osha_starts = 90;
// OSHA's table ends here: a quarter of an hour or less.
constexpr double osha_ends = 115;

std::string time_in_words(double hours) {
    if (hours >= 1) return rounded(hours, 1) + (rounded(hours, 1) == "1" ? " hour" : " hours");
    const double minutes = hours * 60;
    if (minutes >= 1) return rounded(minutes, 0) + (rounded(minutes, 0) == "1" ? " minute" : " minutes");
    return "less than a minute";
}

}  // namespace

double niosh_hours(SoundLevel level) {
    return std::min(24.0, 8 / std::pow(2.0, (level.value() - niosh_starts) / 3));
}

double osha_hours(SoundLevel level) {
    return std::min(24.0, 8 / std::pow(2.0, (level.value() - osha_starts) / 5));
}

std::optional<std::string> hearing_caution(SoundLevel level) {
    // A rounding error below the limit is the limit.
    if (level.value() < niosh_starts - 1e-9) return std::nullopt;
    std::string text = "Hearing: at " + rounded(level.value(), 1) + " dBA NIOSH recommends no more than " +
                       time_in_words(niosh_hours(level)) + " a day";
    if (level.value() > osha_ends)
        text += ", and OSHA's table ends at 115 dBA with a quarter of an hour";
    else if (level.value() >= osha_starts - 1e-9)
        text += ", OSHA allows " + time_in_words(osha_hours(level));
    return text + ". Such limits count all sound of the day together.";
}

}  // namespace tapwright
