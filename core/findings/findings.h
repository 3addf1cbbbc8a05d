// Findings: what is wrong or still open, each with a code of ours, a severity and the record it is about. A stop
// finding makes `check` exit with 1. The sentences, with figures and what to do, are made only when somebody looks.
//
// THE TABLE. Every code stands here once. docs/calculations.md lists it, and a test fails for a code without a job that
// provokes it and one that does not.
//   X(code, severity, "what it means")
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "core/calc/wiring.h"
#include "core/readings/judgement.h"

#define TAPWRIGHT_FINDINGS(X)                                                                                      \
    X(zone_over_limit, stop, "the zone's load is above its limit")                                                 \
    X(channel_over_limit, stop, "the output's load is above its rating")                                           \
    X(amplifier_over_limit, stop, "the amplifier's load is above its rating")                                      \
    X(drawn_above_max, stop, "a loudspeaker draws more than it is allowed")                                        \
    X(low_z_on_line, stop, "a loudspeaker on the line is on its low-impedance (bypass) setting")                   \
    X(below_min_ohm, stop, "the output's impedance, every attenuator full, is below what it may be loaded with")   \
    X(attenuator_over_rating, stop, "more tap watts are behind an attenuator than it is rated for")                \
    X(override_over_supply, stop, "override relays need more current than their supply can give")                  \
    X(reading_short, stop, "the newest reading shows a short")                                                     \
    X(reading_far_over_limit, stop, "the newest reading draws more than 1.25 times the limit")                     \
    X(reading_below_min_ohm, stop, "the newest reading is below what the output may be loaded with")               \
    X(line_disconnected, stop, "a line was left disconnected from the amplifier")                                  \
    X(missing_field, stop, "a required field is absent")                                                           \
    X(dangling_reference, stop, "a record refers to one that does not exist")                                      \
    X(wrong_kind, stop, "a record refers to one of a kind it may not")                                             \
    X(feed_loop, stop, "following the feed of a point leads back to it")                                           \
    X(tap_not_offered, stop, "a tap that the loudspeaker's type does not have")                                    \
    X(shared_id, stop, "two records of different kinds have the same id")                                          \
    X(zone_into_reserve, warn, "the zone's load reaches into its reserve")                                         \
    X(channel_into_reserve, warn, "the output's load reaches into its reserve")                                    \
    X(amplifier_into_reserve, warn, "the amplifier's load reaches into its reserve")                               \
    X(measured_into_reserve, warn, "with what readings show beyond the record, the load reaches into the reserve") \
    X(type_for_other_voltage, warn, "a loudspeaker type's taps are marked for another line voltage")               \
    X(attenuator_behind_attenuator, warn, "an attenuator is fed through another")                                  \
    X(override_not_tested, warn, "no test of an attenuator's override is recorded")                                \
    X(speaker_without_tap, warn, "a loudspeaker has neither a tap nor a planned one")                              \
    X(point_not_traced, warn, "a point's feed is not known")                                                       \
    X(polarity_reversed, warn, "a loudspeaker's polarity is reversed")                                             \
    X(walk_test_fault, warn, "a loudspeaker was silent, buzzed or was too quiet in the walk test")                 \
    X(model_not_possible, warn, "a transformer model's windings leave nothing for the loudspeaker")                \
    X(cable_loss_over_limit, warn, "the cable costs a loudspeaker more level than the limit")                      \
    X(reading_open, warn, "the newest reading shows an open line")                                                 \
    X(reading_more_load, warn, "the newest reading shows more load than the record")                               \
    X(reading_less_load, warn, "the newest reading shows less load than the record")                               \
    X(reading_drifted, warn, "the newest reading has changed since the baseline")                                  \
    X(reading_not_valid, warn, "the newest reading must not be believed")                                          \
    X(reading_over_limit, warn, "the newest reading draws more than the limit")                                    \
    X(stray_voltage, warn, "stray voltage was measured on the line")                                               \
    X(insulation_low, warn, "insulation to earth or to another line is low")                                       \
    X(tap_found_differs, warn, "the tap found on site differs from the record")                                    \
    X(cable_loss_over_half, note, "the cable costs a loudspeaker more than half of the limit")                     \
    X(cable_unknown, note, "cable or length of some runs is not recorded: 0 Ω is assumed")                         \
    X(position_unknown, note, "the position of some attenuators is not recorded: full is assumed")                 \
    X(reading_unproven, note, "whether the line was disconnected for the newest reading is not recorded")          \
    X(emergency_line, note, "part of a fire or emergency system: not calculated")                                  \
    X(pad_assumed, note, "an L-pad's impedance is not recorded: the nominal one behind it is assumed")             \
    X(zone_without_reading, note, "a zone has no impedance reading")                                               \
    X(changed_since_reading, note, "the record has changed since the newest reading at a zone")                    \
    X(can_add_unknown, note, "a zone's headroom is unknown")                                                       \
    X(tap_off_plan, note, "the tap differs from the plan")                                                         \
    X(tap_not_confirmed, note, "a loudspeaker is fitted, but only its planned tap is recorded")                    \
    X(type_unknown, note, "a loudspeaker or attenuator has no type")                                               \
    X(speaker_disconnected, note, "a loudspeaker is not connected")                                                \
    X(interface_not_tested, note, "no test of a link to another system is recorded")

namespace tapwright {

enum class Severity : std::uint8_t { note, warn, stop };
std::string_view word(Severity severity);

// Something that is wrong or open. The sentence is made when somebody looks (core/words/findings_text.h).
struct Finding {
    std::string_view code;  // "zone_over_limit", ...: a fixed list in findings.h
    Severity severity = Severity::note;
    Id at;                     // the record it is about
    std::uint32_t detail = 0;  // told apart by code: a place in a list, a field, ...
};

enum class FindingCode : std::uint8_t {
#define TAPWRIGHT_FINDING(code, severity, help) code,
    TAPWRIGHT_FINDINGS(TAPWRIGHT_FINDING)
#undef TAPWRIGHT_FINDING
};

struct FindingInfo {
    std::string_view code;
    Severity severity = Severity::note;
    Pattern help;  // what the code means
};
std::span<const FindingInfo> finding_table();
// Requires: the finding was made by derive().
FindingCode code_of(const Finding& finding);

// All of them: stops first, then warnings, then notes; within these in record order.
std::vector<Finding> find(const Job& job, const Wiring& wiring, const Judged& judged);

}  // namespace tapwright
