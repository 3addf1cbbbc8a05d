// The sentences beside readings that are kept and never compared with the record.
#include "core/base/text.h"
#include "core/readings/assessment.h"
#include "core/words/figures_text.h"
#include "core/findings/finding_list.h"
#include "core/words/readings_text.h"

namespace tapwright {

std::string plain_sentence(const Job& job, const Reading& reading) {
    const std::string at = reading.at ? " at " + name_of(job, *reading.at) : "";
    if (!reading.quantity || !reading.value) return "A reading without quantity or value" + at + " says nothing.";
    const double value = *reading.value;
    const std::string beyond = reading.over_range.value_or(false) ? "more than " : "";
    switch (*reading.quantity) {
        case Measured::ohms:
            return beyond + in_ohms(value) + at +
                   ": not judged, for this is no zone, channel or traced point; trace it first.";
        case Measured::dc_ohms:
            return beyond + in_ohms(value) + " d.c." + at +
                   ": kept, never compared. Direct current sees only winding copper and cable, a few per cent of what "
                   "the "
                   "line shows at 1 kHz, so it tells neither load nor taps; it does tell an open or shorted run.";
        case Measured::earth_ohms:
        case Measured::cross_ohms: {
            const std::string where = *reading.quantity == Measured::earth_ohms ? " to earth" : " to another line";
            const bool low = value < least_insulation_ohms && beyond.empty();
            return beyond + in_ohms(value) + where + at +
                   (low ? ": LOW; insulation below 1 megohm (common practice) means damp, a nail or a bare strand. "
                          "Find it "
                          "before the amplifier is switched on."
                        : ": insulation as it should be, 1 megohm or more (common practice).");
        }
        case Measured::stray_v:
            return rounded(value, 2) + " V stray" + at +
                   (value > most_stray_volts
                        ? ": TOO MUCH to measure impedance; find where it comes from, and treat the line as "
                          "live until then."
                        : ": low enough to measure impedance.");
        case Measured::volts:
            return rounded(value, 2) + " V" + at + ": kept beside what the line solution says.";
        case Measured::level_dba:
        case Measured::noise_dba:
            return rounded(value, 1) + " dBA" + at +
                   (*reading.quantity == Measured::noise_dba ? " noise: kept." : ": kept.");
        case Measured::tap_w:
            return "The tap found" + at + " is " + in_watts(value) +
                   ": kept; set the point's tap to it where it differs.";
    }
    return "";
}

}  // namespace tapwright
