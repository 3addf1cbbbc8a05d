// The sentences of findings: what is wrong in figures, and what to do. Made only when somebody looks.
#include <cmath>

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/words/loss_cure_text.h"
#include "core/words/words.h"
#include "core/readings/readings.h"
#include "core/job/relations.h"
#include "core/line/loss.h"
#include "core/words/findings_text.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"

namespace tapwright {
namespace {

std::string watts(Watts value) {
    return rounded(value.value(), 2) + " W";
}
std::string volts(Volts value) {
    return rounded(value.value(), 1) + " V";
}
std::string ohms(Ohms value) {
    return rounded(value.value(), 2) + " ohm";
}

class Teller {
public:
    Teller(const Job& job, const Derived& derived, const Finding& finding)
        : job_(job), derived_(derived), finding_(finding) {}

    std::string tell() const {
        using enum FindingCode;
        switch (code_of(finding_)) {
            case zone_over_limit:
            case zone_into_reserve:
                return margin(zone().margin, "limit", "Lower taps or move loudspeakers to another zone.");
            case channel_over_limit:
            case channel_into_reserve:
                return margin(derived_.channels[place<Channel>()].margin, "rating",
                              "Lower taps or move zones to another channel.");
            case amplifier_over_limit:
            case amplifier_into_reserve:
                return margin(derived_.amplifiers[place<Amplifier>()].margin, "rating",
                              "Lower taps or move zones to another amplifier.");
            case measured_into_reserve:
                return name() + ": " + watts(zone().margin.load) + " is recorded and " + watts(zone().unrecorded) +
                       " more was measured; that leaves " + watts(*zone().headroom_measured) +
                       " beside the reserve. Find what is not recorded, or add nothing here.";
            case can_add_unknown:
                return what_is_missing();
            case below_min_ohm:
                return name() + ": " + ohms(derived_.channels[place<Channel>()].ohms_full) +
                       " with every knob full, but it may not be loaded with less than " +
                       ohms(record<Channel>().min_ohm.value_or(Ohms(0))) + ". Take load off or raise impedances.";
            case override_over_supply:
                return name() + ": its override relays need " + std::to_string(finding_.detail) +
                       " mA, but it supplies " +
                       rounded(record<Interface>().supply_ma.value_or(MilliAmps(0)).value(), 1) +
                       " mA. Some will not pull in: add a supply or take relays off.";
            case interface_not_tested:
                return name() + ": it is not recorded that this was seen to work. Test it and write down the day.";
            case zone_without_reading:
                return name() +
                       ": no impedance was read here. Read it at the zone's terminals with the amplifier off and "
                       "both legs lifted; " +
                       (std::isfinite(zone().ohms.value()) ? ohms(zone().ohms) + " is expected." : "");
            case cable_unknown:
                return name() + ": cable or length of " + counted(finding_.detail, "run") +
                       " is not recorded, so they count as no resistance. Record them to have loss and impedance "
                       "right.";
            case type_for_other_voltage:
                return other_voltage();
            default:
                return tell_point();
        }
    }

private:
    std::string tell_point() const {
        using enum FindingCode;
        switch (code_of(finding_)) {
            case drawn_above_max:
                return above_max();
            case low_z_on_line:
                return name() + ": it is on its low-impedance setting on a " + volts(line()) + " line" +
                       (on_line().drawn ? " and would take " + watts(*on_line().drawn) : "") +
                       ". Set it to a tap before the amplifier is switched on.";
            case speaker_without_tap:
                if (record<Point>().wired == Wired::low_z)
                    return name() +
                           ": it is on its low-impedance setting, whose ohms are not recorded with its type, so what "
                           "it draws is unknown. Record them.";
                return name() + ": neither its tap nor a planned one is recorded" +
                       (on_line().traced ? ", so every sum above it is \"at least\"" : "") +
                       ". Look at the tap and record it.";
            case tap_not_confirmed:
                return name() + ": it is fitted, but only its planned tap of " +
                       watts(record<Point>().planned_tap_w.value_or(Watts(0))) + " is recorded. Look and record it.";
            case tap_off_plan:
                return name() + ": set to " + watts(record<Point>().tap_w.value_or(Watts(0))) + ", planned " +
                       watts(record<Point>().planned_tap_w.value_or(Watts(0))) +
                       ". Set it to the plan, or change the plan.";
            case point_not_traced:
                return name() +
                       ": it is not known from where it is fed, so it counts in no zone. Trace its run and record "
                       "what feeds it.";
            case polarity_reversed:
                return name() + ": its polarity is reversed. Swap its two wires.";
            case walk_test_fault:
                return name() + ": heard as \"" + std::string(word(record<Point>().heard.value_or(Heard::ok))) +
                       "\" in the walk test. Find out why and put it right.";
            case type_unknown:
                return name() + ": its type is not recorded, so its limits are unknown. Record it.";
            case speaker_disconnected:
                return name() + ": it is not connected and counts for nothing.";
            case model_not_possible:
                return name() +
                       ": the windings of its type's transformer model have more ohms than the tap itself; the "
                       "model is not used. Correct the ohms of the type's windings.";
            case cable_loss_over_limit:
            case cable_loss_over_half:
                return cable_loss();
            default:
                return tell_attenuator();
        }
    }

    std::string tell_attenuator() const {
        using enum FindingCode;
        switch (code_of(finding_)) {
            case attenuator_over_rating:
                return name() + ": " + watts(on_line().behind) + " of taps behind it, but it is rated for " +
                       watts(*on_line().rating) + " at " + volts(line()) +
                       ". Fit a larger one or lower the taps behind it.";
            case attenuator_behind_attenuator:
                return name() +
                       ": it hangs behind another attenuator, so its loudspeakers are turned down twice and its "
                       "override may be defeated. Feed it from the other's input.";
            case override_not_tested:
                return name() +
                       ": its override was not seen to work. Turn it down, make an announcement, and write down "
                       "the day.";
            case pad_assumed:
                return name() +
                       ": the impedance of this L-pad is not recorded; the nominal one of the taps behind it (" +
                       (on_line().behind > Watts(0) ? ohms(ohms_of(line(), on_line().behind)) : "nothing") +
                       ") is taken. Record it with the type.";
            default:
                return tell_reading_or_relation();
        }
    }

    std::string tell_reading_or_relation() const {
        using enum FindingCode;
        switch (code_of(finding_)) {
            case missing_field:
            case dangling_reference:
            case wrong_kind:
            case feed_loop:
            case tap_not_offered:
            case shared_id:
                return broken_relation();
            case changed_since_reading: {
                const Reading& reading = job_.all<Reading>()[finding_.detail];
                return name() + ": " + ohms(Ohms(reading.value.value_or(0))) + " was read when " +
                       ohms(reading.expected_ohm.value_or(Ohms(0))) +
                       " was expected; the record has changed since, and " +
                       ohms(derived_.readings[finding_.detail].expected_now.value_or(Ohms(0))) +
                       " is expected now. Read it again.";
            }
            case tap_found_differs:
                return name() + ": " + rounded(job_.all<Reading>()[finding_.detail].value.value_or(0), 2) +
                       " W was found, " +
                       (record<Point>().tap_w ? watts(*record<Point>().tap_w) + " is recorded" : "no tap is recorded") +
                       ". Record what is there.";
            default:
                return sentence(job_, derived_, finding_.detail);
        }
    }

    template <class R>
    std::uint32_t place() const {
        return job_.place<R>(finding_.at).value_or(0);
    }
    template <class R>
    const R& record() const {
        return job_.all<R>()[place<R>()];
    }
    const ZoneState& zone() const { return derived_.zones[place<Zone>()]; }
    const PointOnLine& on_line() const { return derived_.points[place<Point>()]; }
    Volts line() const {
        const std::uint32_t zone = on_line().zone;
        return zone == nowhere ? line_voltage(job_) : derived_.zones[zone].line_v;
    }
    std::string name() const { return name_of(job_, finding_.at); }

    std::string margin(const Margin& margin, std::string_view limit, std::string_view cure) const {
        std::string text = name() + ": " + (margin.basis == Basis::at_least ? "at least " : "") + watts(margin.load) +
                           " on a " + std::string(limit) + " of " + watts(*margin.limit);
        const std::optional<Watts> over = margin.over();
        text += over ? ", " + watts(*over) + " too much. "
                     : ", " + watts(-*margin.headroom) + " into the reserve of " + watts(*margin.reserve) + ". ";
        return text + std::string(cure);
    }

    std::string what_is_missing() const {
        std::vector<std::string> missing;
        if (!zone().margin.limit) missing.emplace_back("the zone's limit");
        if (zone().margin.basis == Basis::at_least) missing.emplace_back("the taps of some loudspeakers");
        if (!zone().channel)
            missing.emplace_back("the channel that feeds it");
        else if (!derived_.channels[*zone().channel].margin.limit)
            missing.emplace_back("the channel's rating");
        if (zone().channel && !zone().amplifier)
            missing.emplace_back("the amplifier of its channel");
        else if (zone().amplifier && !derived_.amplifiers[*zone().amplifier].margin.limit)
            missing.emplace_back("the amplifier's rating");
        if (missing.empty()) missing.emplace_back("the taps of other zones on the same amplifier");
        return name() + ": what may be added is unknown. Still to record: " + list_in_words(missing) + ".";
    }

    std::string other_voltage() const {
        const SpeakerType& type = job_.all<SpeakerType>()[finding_.detail];
        const double factor = drawn_by_tap(Watts(1), &type, zone().line_v).value();
        return name() + ": taps of " + name_of(job_, type.id) + " are marked for " + volts(*type.taps_v) +
               ", the line has " + volts(zone().line_v) + ", so each draws " + rounded(factor, 3) +
               " times its mark. Ohms cannot reveal it. Choose taps by what is drawn, or fit the right type.";
    }

    std::string above_max() const {
        const SpeakerType* type = job_.find<SpeakerType>(record<Point>().type);
        const std::string most = type && type->max_w ? watts(*type->max_w) : "what it may";
        std::string text = name() + ": it draws " + watts(on_line().drawn.value_or(Watts(0))) + " at " + volts(line()) +
                           ", but may be given " + most + ". Set a lower tap";
        if (type && type->taps_v && !is_same_line(*type->taps_v, line()))
            text += "; its taps are marked for " + volts(*type->taps_v);
        return text + ".";
    }

    std::string cable_loss() const {
        const Decibels limit = job_.info().loss_limit_db.value_or(Defaults::loss_limit_db);
        const Decibels loss = -on_line().cable.value_or(Decibels(0));
        const LineLoss whole = loss_of_decibels(loss);
        std::string text = name() + ": the cable costs it " + rounded(loss.value(), 2) +
                           " dB of level against the same tap without cable (" +
                           rounded((1 - whole.power_ratio) * 100, 1) + " % of its watts, " +
                           rounded((1 - whole.volts_ratio) * 100, 1) + " % of the volts); the limit is " +
                           rounded(limit.value(), 2) + " dB, and it is the worst in its zone. ";
        if (loss > limit) {
            const std::optional<LossCure> cure = loss_cure(job_, wire(job_), place<Point>(), limit);
            return cure ? text + in_english(message_of(job_, *cure)) : text;
        }
        return text + "More than half of it is used.";
    }

    std::string broken_relation() const {
        const std::vector<BrokenRelation> broken = broken_relations(job_);
        if (finding_.detail >= broken.size()) return name() + ": a relation is broken.";
        const BrokenRelation& relation = broken[finding_.detail];
        return in_english(placed(place_of(job_, relation), message_of(job_, relation)));
    }

    const Job& job_;
    const Derived& derived_;
    const Finding& finding_;
};

}  // namespace

std::string sentence(const Job& job, const Derived& derived, const Finding& finding) {
    return Teller(job, derived, finding).tell();
}

}  // namespace tapwright
