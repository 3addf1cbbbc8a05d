#include "core/words/balance_text.h"

#include "core/units/show.h"

namespace tapwright {
namespace {

std::string measured_text(const ZoneBalance& balance) {
    if (!balance.measured) return "The newest reading shows an open line.";
    return "The newest reading, " + show(*balance.ohms) + ", stands for " + show(*balance.measured) +
           ", for taps between " + show(*balance.least) + " and " + show(*balance.most) +
           " as far as a loudspeaker's impedance may be off.";
}

std::string recorded_text(const ZoneBalance& balance) {
    std::string text = !balance.recorded ? "How much of it is recorded cannot be said, because some taps are not known."
                       : balance.recorded > Watts(0) ? show(*balance.recorded) + " of it were recorded then"
                                                     : "Nothing of it was recorded then";
    if (!balance.recorded) return text;
    if (balance.found > Watts(0)) text += ", " + show(balance.found) + " were found since";
    return text + (balance.unrecorded > Watts(0) ? "; " + show(balance.unrecorded) + " are still unaccounted for."
                                                 : "; nothing is unaccounted for.");
}

std::string room_text(const ZoneBalance& balance) {
    if (!balance.can_add)
        return "What may be added is not known, because a limit or a tap on the way to the amplifier is not.";
    std::string text = show(may_add(*balance.can_add)) + " may be added";
    if (balance.sure_to_add != balance.can_add)
        text += " if the loudspeakers draw what they are rated for; " + show(may_add(*balance.sure_to_add)) +
                " for certain, with their impedance off as far as it may be";
    return text + ".";
}

}  // namespace

std::string balance_text(const Job& job, const ZoneBalance& balance) {
    const std::string name = name_of(job, balance.zone);
    if (balance.low_impedance)
        return name +
               " is a low-impedance zone: its ohms count, not watts, and they must not fall below what its "
               "output may be loaded with.";
    if (balance.read_before)
        return name +
               ": nobody has read the impedance yet. Read it with the amplifier disconnected before anything is "
               "added, or what hangs there unrecorded stays unknown. By the records alone " +
               room_text(balance);
    std::string text = name + ": " + measured_text(balance);
    if (balance.measured) text += " " + recorded_text(balance);
    if (balance.added > Watts(0)) text += " " + show(balance.added) + " were added since.";
    text += " " + room_text(balance);
    return text + (balance.read_after ? " Read it once more, now that something was added."
                                      : " Read it again once something was added.");
}

}  // namespace tapwright
