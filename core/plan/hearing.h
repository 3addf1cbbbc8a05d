// Where hearing limits begin, as cautions beside a level. Advice, not a judgement of a workplace: that needs the levels
// people really get, over their day.
#pragma once

#include <optional>

#include "core/units/quantity.h"

namespace tapwright {

// Hours a day at a steady level by the recommended limit of NIOSH: 85 dBA for 8 h, half the time for each 3 dB more
// (CDC/NIOSH noise page): 8/2^((L - 85)/3). No more than 24.
double niosh_hours(SoundLevel level);

// Hours a day by the permissible limit of OSHA: 90 dBA for 8 h, half the time for each 5 dB more (29 CFR 1910.95, table
// G-16a's formula; table G-16 prints some of its figures rounded): 8/2^((L - 90)/5). No more than 24.
double osha_hours(SoundLevel level);

// What to mind at a level people would sit in; nothing below 85 dBA, where neither limit begins. In words:
// core/words/hearing_text.h.
struct HearingLimits {
    SoundLevel level{0};
    double niosh_hours = 0;
    std::optional<double> osha_hours;   // from 90 dBA on
    bool is_beyond_osha_table = false;  // which ends at 115 dBA, with a quarter of an hour; then no hours either
};
std::optional<HearingLimits> hearing_limits(SoundLevel level);

}  // namespace tapwright
