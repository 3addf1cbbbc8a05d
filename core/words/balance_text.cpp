#include "core/words/balance_text.h"

#include "core/units/unit.h"

namespace tapwright {
namespace {

std::vector<Named> figures_of(const Job& job, const ZoneBalance& balance) {
    return {{"zone", entered(name_of(job, balance.zone))},
            {"room", may_add(balance.can_add.value_or(Watts(0)))},
            {"sure", may_add(balance.sure_to_add.value_or(Watts(0)))},
            {"off", job.info().ohms_tol_pct.value_or(Defaults::ohms_tol_pct)},
            {"ohms", balance.ohms.value_or(Ohms(0))},
            {"measured", balance.measured.value_or(Watts(0))},
            {"least", balance.least.value_or(Watts(0))},
            {"most", balance.most.value_or(Watts(0))},
            {"recorded", balance.recorded.value_or(Watts(0))},
            {"missing", balance.recorded.value_or(Watts(0)) - balance.measured.value_or(Watts(0))},
            {"found", balance.found},
            {"added", balance.added},
            {"unrecorded", balance.unrecorded}};
}

// ---- why ----

Message measured_reason(const ZoneBalance& balance, const std::vector<Named>& figures) {
    if (!balance.measured) return Message("The newest reading shows an open line.");
    if (!balance.is_whole)
        return Message(Pattern("{measured} measured ({ohms}), {recorded} recorded; some taps in it are not known."),
                       figures);
    if (balance.unrecorded > Watts(0))
        return Message(Pattern("{measured} measured ({ohms}), {recorded} recorded: {unrecorded} is not accounted for."),
                       figures);
    if (balance.recorded.value_or(Watts(0)) - *balance.measured >= Watts(0.05))
        return Message(Pattern("{measured} measured ({ohms}), {recorded} recorded: {missing} is missing."), figures);
    return Message(Pattern("{measured} measured ({ohms}), {recorded} recorded."), figures);
}

Message reasons(const ZoneBalance& balance, const std::vector<Named>& figures) {
    return sentences(
        {measured_reason(balance, figures),
         balance.found > Watts(0) ? Message(Pattern("{found} of it was found and recorded since."), figures)
                                  : Message(),
         balance.added > Watts(0) ? Message(Pattern("{added} was added since."), figures) : Message(),
         balance.most
             ? Message(Pattern("A loudspeaker's impedance may be {off} off, so the taps are {least} to {most}."),
                       figures)
             : Message()});
}

// ---- the verdict, and what to do ----

Message room(const ZoneBalance& balance, const std::vector<Named>& figures) {
    if (!balance.can_add)
        return Message(Pattern("{zone}: what may be added is unknown, as a limit or a tap is not recorded."), figures);
    if (!(may_add(*balance.can_add) > Watts(0)))
        return Message(Pattern("{zone}: full, nothing more may be added."), figures);
    if (balance.sure_to_add == balance.can_add) return Message(Pattern("{zone}: room for {room}."), figures);
    return Message(Pattern("{zone}: room for {room} if every impedance is as rated, {sure} at worst ({off} off)."),
                   figures);
}

Message step(const ZoneBalance& balance, const std::vector<Named>& figures) {
    if (!balance.is_proven) return Message("Read it again with both conductors disconnected: that was not noted.");
    if (balance.read_after) return Message("Read it again: something was added since.");
    if (balance.unrecorded > Watts(0) && balance.can_add)
        return Message(Pattern("Plan on {sure} until the {unrecorded} is found."), figures);
    if (balance.unrecorded > Watts(0)) return Message(Pattern("Find the {unrecorded} that is not recorded."), figures);
    if (!balance.can_add) return Message("Record what is missing.");
    return Message("Read it again after adding.");
}

}  // namespace

Statement statement_of(const Job& job, const ZoneBalance& balance) {
    const std::vector<Named> figures = figures_of(job, balance);
    if (balance.low_impedance)
        return {sentences({Message(Pattern("{zone}: low-impedance zone, so watts do not apply."), figures),
                           Message("Keep its impedance above what its output may be loaded with.")}),
                {}};
    if (balance.emergency)
        return {sentences({Message(Pattern("{zone}: fire or emergency line, so it is not calculated."), figures),
                           Message("Leave it to qualified people.")}),
                {}};
    if (balance.read_before)
        return {sentences({Message(Pattern("{zone}: no impedance reading yet."), figures),
                           Message("Make sure this is not a fire or emergency line, then disconnect the amplifier and "
                                   "read it before adding anything.")}),
                balance.can_add ? Message(Pattern("By the records alone there is room for {room}."), figures)
                                : Message("Headroom is not known by the records either.")};
    return {sentences({room(balance, figures), step(balance, figures)}), reasons(balance, figures)};
}

}  // namespace tapwright
