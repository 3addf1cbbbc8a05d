#include "core/words/hearing_text.h"

namespace tapwright {
namespace {

// "4.6 h", "45 min": symbols, which have no plural.
Message time_in_words(double hours) {
    const double minutes = hours * 60;
    if (hours >= 1) return Message("{hours} h", {{"hours", Figure{hours, Unit::none, 1}}});
    if (minutes >= 1) return Message("{minutes} min", {{"minutes", Figure{minutes, Unit::none, 0}}});
    return Message("{seconds} s", {{"seconds", Figure{minutes * 60, Unit::none, 0}}});
}

}  // namespace

Message message_of(const HearingLimits& limits) {
    const Argument level = Figure{limits.level.value(), Unit::none, 1};
    const Message niosh = time_in_words(limits.niosh_hours);
    const Message all_sounds = Message("All sound of the day counts together.");
    if (limits.is_beyond_osha_table)
        return sentences({Message("Hearing: at {level} dB(A) NIOSH recommends no more than {niosh} a day. OSHA's table "
                                  "ends at 115 dB(A) with 15 min.",
                                  {{"level", level}, {"niosh", niosh}}),
                          all_sounds});
    if (limits.osha_hours)
        return sentences(
            {Message("Hearing: at {level} dB(A) NIOSH recommends no more than {niosh} a day, OSHA allows {osha}.",
                     {{"level", level}, {"niosh", niosh}, {"osha", time_in_words(*limits.osha_hours)}}),
             all_sounds});
    return sentences({Message("Hearing: at {level} dB(A) NIOSH recommends no more than {niosh} a day.",
                              {{"level", level}, {"niosh", niosh}}),
                      all_sounds});
}

}  // namespace tapwright
