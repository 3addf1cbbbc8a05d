// What findings about cables and attenuators say.
#include "core/line/loss.h"
#include "core/words/finding_parts.h"
#include "core/words/loss_cure_text.h"

namespace tapwright::said {
namespace {

struct CableLoss {
    Decibels loss{0};
    Decibels limit{0};
    std::vector<Named> figures;
};

CableLoss cable_loss_of(const FindingSubject& s) {
    CableLoss made{
        -s.on_line().cable_all.value_or(Decibels(0)), s.job.info().loss_limit_db.value_or(Defaults::loss_limit_db), {}};
    const LineLoss whole = loss_of_decibels(made.loss);
    made.figures = {{"place", s.place()},
                    {"loss", made.loss},
                    {"limit", made.limit},
                    {"watts", Percent((1 - whole.power_ratio) * 100)},
                    {"volts", Percent((1 - whole.volts_ratio) * 100)}};
    return made;
}

Message loss_reasons(const CableLoss& cable) {
    return Message(Pattern("The cable costs it {watts} of its watts ({volts} of the volts), compared with the same tap "
                           "without cable. It is the worst in its zone."),
                   cable.figures);
}

}  // namespace

Statement cable_loss_over_limit(const FindingSubject& s) {
    const CableLoss cable = cable_loss_of(s);
    const std::optional<LossCure> cure = loss_cure(s.job, s.words.wiring(), s.at<Point>(), cable.limit);
    return {sentences({Message(Pattern("{place}: {loss} cable loss, limit {limit}."), cable.figures),
                       cure ? message_of(s.job, *cure) : Message()}),
            sentences({cure ? home_run_of(s.job, *cure) : Message(), loss_reasons(cable)})};
}

Statement cable_loss_over_half(const FindingSubject& s) {
    const CableLoss cable = cable_loss_of(s);
    return {sentences(
                {Message(Pattern("{place}: {loss} cable loss, more than half of the {limit} allowed."), cable.figures),
                 Message("Check again before adding to this line.")}),
            loss_reasons(cable)};
}

Statement cable_unknown(const FindingSubject& s) {
    return {plural("{place}: {count} run has no cable or length, so 0 Ω is assumed. Record it.",
                   "{place}: {count} runs have no cable or length, so 0 Ω is assumed. Record them.", s.finding.detail,
                   {{"place", s.place()}}),
            Message("Until then cable loss is more, and impedance higher, than calculated.")};
}

Statement attenuator_over_rating(const FindingSubject& s) {
    return {sentences({Message("{place}: {behind} of taps behind it, rated for {rating} at {line}.",
                               {{"place", s.place()},
                                {"behind", s.on_line().behind},
                                {"rating", s.on_line().rating.value_or(Watts(0))},
                                {"line", s.line()}}),
                       Message("Fit a larger one or lower the taps behind it.")}),
            {}};
}

Statement attenuator_behind_attenuator(const FindingSubject& s) {
    return {sentences({Message("{place}: fed through another attenuator.", {{"place", s.place()}}),
                       Message("Amplifier off, then feed it from the other's input.")}),
            Message("Its loudspeakers are turned down twice, and the override may not reach them.")};
}

Statement override_not_tested(const FindingSubject& s) {
    return {sentences({Message("{place}: override not tested.", {{"place", s.place()}}),
                       Message("Turn it down, make an announcement, listen, and record the day.")}),
            {}};
}

Statement pad_assumed(const FindingSubject& s) {
    const Watts behind = s.on_line().behind;
    const Message step = Message("Record it with the type.");
    if (!(behind > Watts(0)))
        return {
            sentences({Message("{place}: the impedance of this L-pad is not recorded.", {{"place", s.place()}}), step}),
            {}};
    return {sentences({Message("{place}: the impedance of this L-pad is not recorded; {ohms} is assumed.",
                               {{"place", s.place()}, {"ohms", ohms_of(s.line(), behind)}}),
                       step}),
            Message("Assumed is the nominal impedance of the taps behind it.")};
}

}  // namespace tapwright::said
