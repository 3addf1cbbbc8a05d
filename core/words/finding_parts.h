// What each finding says, one function a code, named after it. Used by findings_text.cpp alone, whose table names every
// code of core/findings/findings.h: a code without its function here does not compile.
#pragma once

#include "core/units/unit.h"
#include "core/words/findings_text.h"
#include "core/words/place_name.h"

namespace tapwright {

// What a finding is about.
struct FindingSubject {
    const FindingWords& words;
    const Job& job;
    const Derived& derived;
    const Finding& finding;

    Argument place() const { return place_name(job, finding.at); }
    template <class R>
    std::uint32_t at() const {
        return job.place<R>(finding.at).value_or(0);
    }
    template <class R>
    const R& record() const {
        return job.all<R>()[at<R>()];
    }
    const ZoneState& zone() const { return derived.zones[at<Zone>()]; }
    const PointOnLine& on_line() const { return derived.points[at<Point>()]; }
    // The line voltage at a point, traced or not.
    Volts line() const {
        const std::uint32_t on_zone = on_line().zone;
        return on_zone == nowhere ? line_voltage(job) : derived.zones[on_zone].line_v;
    }
};

namespace said {

// ---- limits (findings_of_limits_text.cpp) ----
Statement zone_over_limit(const FindingSubject&);
Statement zone_into_reserve(const FindingSubject&);
Statement channel_over_limit(const FindingSubject&);
Statement channel_into_reserve(const FindingSubject&);
Statement amplifier_over_limit(const FindingSubject&);
Statement amplifier_into_reserve(const FindingSubject&);
Statement measured_into_reserve(const FindingSubject&);
Statement can_add_unknown(const FindingSubject&);
Statement below_min_ohm(const FindingSubject&);
Statement override_over_supply(const FindingSubject&);
Statement interface_not_tested(const FindingSubject&);
Statement line_disconnected(const FindingSubject&);
Statement position_unknown(const FindingSubject&);
Statement emergency_line(const FindingSubject&);

// ---- loudspeakers (findings_of_speakers_text.cpp) ----
Statement drawn_above_max(const FindingSubject&);
Statement low_z_on_line(const FindingSubject&);
Statement speaker_without_tap(const FindingSubject&);
Statement tap_not_confirmed(const FindingSubject&);
Statement tap_off_plan(const FindingSubject&);
Statement point_not_traced(const FindingSubject&);
Statement polarity_reversed(const FindingSubject&);
Statement walk_test_fault(const FindingSubject&);
Statement type_unknown(const FindingSubject&);
Statement speaker_disconnected(const FindingSubject&);
Statement model_not_possible(const FindingSubject&);
Statement type_for_other_voltage(const FindingSubject&);

// ---- cables and attenuators (findings_of_lines_text.cpp) ----
Statement cable_loss_over_limit(const FindingSubject&);
Statement cable_loss_over_half(const FindingSubject&);
Statement cable_unknown(const FindingSubject&);
Statement attenuator_over_rating(const FindingSubject&);
Statement attenuator_behind_attenuator(const FindingSubject&);
Statement override_not_tested(const FindingSubject&);
Statement pad_assumed(const FindingSubject&);

// ---- readings (findings_of_readings_text.cpp) ----
Statement zone_without_reading(const FindingSubject&);
Statement changed_since_reading(const FindingSubject&);
Statement tap_found_differs(const FindingSubject&);
Statement reading_not_valid(const FindingSubject&);
Statement reading_unproven(const FindingSubject&);
Statement stray_voltage(const FindingSubject&);
Statement insulation_low(const FindingSubject&);
Statement reading_open(const FindingSubject&);
Statement reading_short(const FindingSubject&);
Statement reading_more_load(const FindingSubject&);
Statement reading_less_load(const FindingSubject&);
Statement reading_drifted(const FindingSubject&);
Statement reading_over_limit(const FindingSubject&);
Statement reading_far_over_limit(const FindingSubject&);
Statement reading_below_min_ohm(const FindingSubject&);

// ---- relations between records (findings_text.cpp) ----
Statement missing_field(const FindingSubject&);
Statement dangling_reference(const FindingSubject&);
Statement wrong_kind(const FindingSubject&);
Statement feed_loop(const FindingSubject&);
Statement tap_not_offered(const FindingSubject&);
Statement shared_id(const FindingSubject&);

}  // namespace said
}  // namespace tapwright
