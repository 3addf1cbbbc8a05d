// A sound job, and for every finding code a fault that provokes it, one as near as can be that does not, and what is
// said.
#pragma once

#include <array>
#include <functional>

#include "core/findings/findings.h"
#include "tests/derive/job_builder.h"

namespace tapwright {

struct FindingCase {
    std::string_view code;
    std::function<void(JobBuilder&)> fault;     // on a sound job: makes the finding
    std::function<void(JobBuilder&)> no_fault;  // on a sound job: comes close and does not
    std::string_view text;                      // what is said at once
};

// One zone z of 100 W on a channel out of an amplifier amp of 180 W; behind an attenuator w (50 W) hang p1 to p4 of 5
// W.
inline JobBuilder sound_job() {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"awg", 18.0}});
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0}}});
    job.add("point", "w",
            {{"kind", "attenuator"},
             {"type", "a"},
             {"fed_from", "z"},
             {"cable", "c"},
             {"length_m", 10.0},
             {"knob_db", 0.0}});
    job.chain("p", 4, "w", 5, {{"cable", "c"}, {"length_m", 2.0}});
    job.read("r", "z", 253.0);
    for (const auto& [kind, id, name] : {std::array{"zone", "z", "Foyer"},
                                         {"channel", "out", "Output 1"},
                                         {"amplifier", "amp", "Rack amplifier"},
                                         {"speaker_type", "s", "Ceiling 165"},
                                         {"attenuator_type", "a", "Wall 50"},
                                         {"cable_type", "c", "Grey 18"}})
        job.set(kind, id, "name", name);
    for (const auto& [id, label] :
         {std::array{"w", "V-1"}, {"p1", "C-101"}, {"p2", "C-102"}, {"p3", "C-103"}, {"p4", "C-104"}})
        job.set("point", id, "label", label);
    return job;
}

inline void reading(JobBuilder& job, double ohms, const Map& more = {}) {
    job.read("r2", "z", ohms, more);
}
inline std::function<void(JobBuilder&)> set(std::string kind, std::string id, std::string key, Value value) {
    return [=](JobBuilder& job) { job.set(kind, id, key, value); };
}
inline std::function<void(JobBuilder&)> read(double ohms, Map more = {}) {
    return [=](JobBuilder& job) { reading(job, ohms, more); };
}
inline std::function<void(JobBuilder&)> read_other(std::string at, std::string quantity, double value) {
    return [=](JobBuilder& job) { job.add("reading", "r3", {{"at", at}, {"quantity", quantity}, {"value", value}}); };
}

inline std::vector<FindingCase> limit_cases() {
    return {
        {"zone_over_limit", set("zone", "z", "limit_w", 19.0), set("zone", "z", "limit_w", 20.0),
         "Foyer: 20 W load, limit 19 W: 1 W over. Lower taps or move loudspeakers to another zone."},
        {"zone_into_reserve", set("zone", "z", "limit_w", 24.9), set("zone", "z", "limit_w", 25.0),
         "Foyer: 20 W load, limit 24.9 W: 0.08 W into the reserve. Lower taps or move loudspeakers to another zone."},
        {"channel_over_limit", set("channel", "out", "rated_w", 19.0), set("channel", "out", "rated_w", 20.0),
         "Output 1: 20 W load, rating 19 W: 1 W over. Lower taps or move zones to another output."},
        {"channel_into_reserve", set("channel", "out", "rated_w", 24.9), set("channel", "out", "rated_w", 25.0),
         "Output 1: 20 W load, rating 24.9 W: 0.08 W into the reserve. Lower taps or move zones to another output."},
        {"amplifier_over_limit", set("amplifier", "amp", "rated_w", 19.0), set("amplifier", "amp", "rated_w", 20.0),
         "Rack amplifier: 20 W load, rating 19 W: 1 W over. Lower taps or move zones to another amplifier."},
        {"amplifier_into_reserve", set("amplifier", "amp", "rated_w", 24.9), set("amplifier", "amp", "rated_w", 25.0),
         "Rack amplifier: 20 W load, rating 24.9 W: 0.08 W into the reserve. Lower taps or move zones to another "
         "amplifier."},
        {"measured_into_reserve", read(70.7 * 70.7 / 81), read(70.7 * 70.7 / 79),
         "Foyer: 20 W recorded, 61 W more measured: 1.05 W into the reserve. Find the 61 W; add nothing until then."},
        {"can_add_unknown", set("zone", "z", "limit_w", Value()), set("channel", "out", "rated_w", Value()),
         "Foyer: what may be added is unknown. Still to record: its limit and the output's rating."},
        {"below_min_ohm", set("channel", "out", "min_ohm", 260.0), set("channel", "out", "min_ohm", 240.0),
         "Output 1: 251 Ω with every attenuator full; it may not be loaded below 260 Ω. Lower taps or move zones to "
         "another output."},
        {"attenuator_over_rating", set("attenuator_type", "a", "rated_w", 19.0),
         set("attenuator_type", "a", "rated_w", 20.0),
         "V-1: 20 W of taps behind it, rated for 19 W at 70.7 V. Fit a larger one or lower the taps behind it."},
        {"zone_without_reading", [](JobBuilder& job) { job.remove("reading", "r"); }, [](JobBuilder&) {},
         "Foyer: no impedance reading yet, 251 Ω expected. Make sure this is not a fire or emergency line, then "
         "disconnect the amplifier and read it."},
        {"changed_since_reading",
         [](JobBuilder& job) {
             job.set("reading", "r", "expected_ohm", 253.0);
             job.set("point", "p4", "tap_w", 7.5);
         },
         [](JobBuilder& job) { job.set("reading", "r", "expected_ohm", 251.0); },
         "Foyer: recorded load changed since the last reading: 253 Ω expected then, 223 Ω now. Read it again."},
        {"override_over_supply",
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "energise").set("attenuator_type", "a", "coil_ma", 60.0);
             job.add("interface", "i", {{"kind", "override_24v"}, {"amplifier", "amp"}, {"supply_ma", 50.0}});
         },
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "energise").set("attenuator_type", "a", "coil_ma", 50.0);
             job.add("interface", "i", {{"kind", "override_24v"}, {"amplifier", "amp"}, {"supply_ma", 50.0}});
         },
         "24 V override supply: its override relays need 60 mA; it supplies 50 mA. Fit a larger supply or use fewer "
         "relays."},
        {"interface_not_tested",
         [](JobBuilder& job) {
             job.add("interface", "i", {{"kind", "fire_mute"}});
         },
         [](JobBuilder& job) {
             job.add("interface", "i", {{"kind", "fire_mute"}, {"tested", "2024-05-01"}});
         },
         "Music muted by the fire alarm: no test recorded. Arrange one with whoever is responsible for the fire alarm; "
         "do not operate or disconnect it yourself."},
    };
}

inline std::vector<FindingCase> point_cases() {
    return {
        {"drawn_above_max", set("speaker_type", "s", "max_w", 4.9), set("speaker_type", "s", "max_w", 5.0),
         "C-101: draws 5 W, 4.9 W allowed. Amplifier off, then set a lower tap."},
        {"low_z_on_line",
         [](JobBuilder& job) { job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p1", "wired", "low_z"); },
         [](JobBuilder& job) {
             job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p1", "wired", "low_z");
             job.set("zone", "z", "output", "low_z");
         },
         "C-101: on its 8 Ω (bypass) setting, would draw 624.8 W from a 70.7 V line. Keep the amplifier off until it "
         "is set to a tap."},
        {"type_for_other_voltage", set("speaker_type", "s", "taps_v", 100.0), set("speaker_type", "s", "taps_v", 70.0),
         "Foyer: taps of Ceiling 165 are marked for 100 V, the line has 70.7 V: each draws 0.5 times its mark. Choose "
         "taps by what they draw, or fit the right type."},
        {"attenuator_behind_attenuator",
         [](JobBuilder& job) {
             job.add("point", "w2", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "p1"}});
         },
         [](JobBuilder& job) {
             job.add("point", "w2", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "w"}, {"feed_side", "in"}});
         },
         "w2: fed through another attenuator. Amplifier off, then feed it from the other's input."},
        {"override_not_tested", set("attenuator_type", "a", "override", "release"),
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "release").set("point", "w", "override_tested", "2024-05-01");
         },
         "V-1: override not tested. Turn it down, make an announcement, listen, and record the day."},
        {"pad_assumed", set("attenuator_type", "a", "build", "l_pad"),
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "build", "l_pad").set("attenuator_type", "a", "pad_ohm", 250.0);
         },
         "V-1: the impedance of this L-pad is not recorded; 250 Ω is assumed. Record it with the type."},
        {"speaker_without_tap", set("point", "p1", "tap_w", Value()),
         [](JobBuilder& job) { job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0); },
         "C-101: no tap recorded; loads including it are minimums. Amplifier off, look, record."},
        {"tap_not_confirmed",
         [](JobBuilder& job) {
             job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0);
             job.set("point", "p1", "state", "fitted");
         },
         [](JobBuilder& job) {
             job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0);
             job.set("point", "p1", "state", "cabled");
         },
         "C-101: fitted, but only its planned tap of 5 W is recorded. Amplifier off, look, record."},
        {"tap_off_plan", set("point", "p1", "planned_tap_w", 10.0), set("point", "p1", "planned_tap_w", 5.0),
         "C-101: tap 5 W differs from plan, 10 W. Correct one or the other."},
        {"point_not_traced", set("point", "p4", "fed_from", Value()), [](JobBuilder&) {},
         "C-104: feed unknown, so not counted in any zone. Trace it."},
        {"polarity_reversed", set("point", "p1", "polarity", "reversed"), set("point", "p1", "polarity", "ok"),
         "C-101: polarity reversed. Amplifier off, then swap its two wires."},
        {"walk_test_fault", set("point", "p1", "heard", "buzz"), set("point", "p1", "heard", "ok"),
         "C-101: buzzed in the walk test. Check what rattles, then the loudspeaker."},
        {"type_unknown", set("point", "p1", "type", Value()), [](JobBuilder&) {},
         "C-101: type not recorded, so its limits are unknown. Record it."},
        {"speaker_disconnected", set("point", "p1", "wired", "off"), set("point", "p1", "wired", "line"),
         "C-101: not connected; no load counted."},
        {"model_not_possible", set("speaker_type", "s", "primary_ohm", 1000.0),
         set("speaker_type", "s", "primary_ohm", 900.0),
         "C-101: its type's transformer windings have more resistance than the tap, so they are not used. Correct the "
         "windings of the type."},
        {"cable_loss_over_limit", set("point", "w", "length_m", 900.0), set("point", "w", "length_m", 600.0),
         "C-104: 1.23 dB cable loss, limit 1 dB. Use 16 AWG instead of 18 AWG (loss then 0.79 dB), shorten the run to "
         "V-1 from 900 m to 722.7 m, or lower taps."},
        {"cable_loss_over_half", set("point", "w", "length_m", 500.0), set("point", "w", "length_m", 200.0),
         "C-104: 0.71 dB cable loss, more than half of the 1 dB allowed. Check again before adding to this line."},
        {"position_unknown", set("point", "w", "knob_db", Value()), set("point", "w", "knob_db", -6.0),
         "Foyer: 1 attenuator has no position recorded, so full is assumed. Record where they were left."},
        {"emergency_line", set("zone", "z", "emergency", "yes"), set("zone", "z", "emergency", "no"),
         "Foyer: part of a fire or emergency system, so it is not calculated. Leave it to qualified people."},
        {"line_disconnected", set("zone", "z", "disconnected", true), set("zone", "z", "disconnected", false),
         "Foyer: still disconnected from the amplifier. Connect both conductors, set the attenuators back as left, "
         "then play."},
        {"cable_unknown", set("point", "p2", "length_m", Value()), [](JobBuilder&) {},
         "Foyer: 1 run has no cable or length, so 0 Ω is assumed. Record it."},
    };
}

inline std::vector<FindingCase> reading_cases() {
    return {
        {"reading_open", [](JobBuilder& job) { job.over_range("r2", "z", 2000); }, read(253),
         "Foyer: over 2 kΩ read, 251 Ω expected: open line. Amplifier off, look for a loose terminal or a broken cable "
         "before the first loudspeaker."},
        {"reading_not_valid", read(253, {{"isolated", false}}), read(253),
         "Foyer: 253 Ω read with the amplifier connected: not judged. Amplifier off, disconnect both conductors, then "
         "read again."},
        {"reading_unproven", set("reading", "r", "isolated", Value()), [](JobBuilder&) {},
         "Foyer: not noted that the line was disconnected for the newest reading. Read it again with both conductors "
         "disconnected."},
        {"reading_short", read(3), read(253),
         "Foyer: 3 Ω read, 251 Ω expected: short circuit. Keep the amplifier off until the short is found."},
        {"reading_more_load", read(190), read(210),
         "Foyer: 190 Ω read, 251 Ω expected (\u221224.2 %): more load than recorded. Next: find the fault."},
        {"reading_less_load", read(310), read(290),
         "Foyer: 310 Ω read, 251 Ω expected (+23.8 %): less load than recorded. Next: find the fault."},
        {"reading_drifted", [](JobBuilder& job) { job.set("reading", "r", "baseline", true).read("r2", "z", 267); },
         [](JobBuilder& job) { job.set("reading", "r", "baseline", true).read("r2", "z", 264); },
         "Foyer: 267 Ω read, 251 Ω expected (+6.6 %): within ±20 % of the record, but 5.5 % above its baseline. Next: "
         "find the fault."},
        {"reading_over_limit", read(70.7 * 70.7 / 101), read(70.7 * 70.7 / 99),
         "Foyer: 49.5 Ω read, that is 101 W: 1 W over the limit of 100 W. Lower taps or move loudspeakers to another "
         "zone."},
        {"reading_far_over_limit", read(70.7 * 70.7 / 126), read(70.7 * 70.7 / 124),
         "Foyer: 39.7 Ω read, that is 126 W: more than 1.25 × the limit of 100 W. Keep the amplifier off and take load "
         "off first."},
        {"reading_below_min_ohm",
         [](JobBuilder& job) { job.set("channel", "out", "min_ohm", 200.0).read("r2", "z", 199); },
         [](JobBuilder& job) { job.set("channel", "out", "min_ohm", 200.0).read("r2", "z", 201); },
         "Foyer: 199 Ω read; its output may not be loaded below 200 Ω. Keep the amplifier off and take load off "
         "first."},
        {"stray_voltage", read_other("z", "stray_v", 1.0), read_other("z", "stray_v", 0.9),
         "Foyer: 1 V stray, 1 V or more: treat the line as live. Find where it comes from before measuring impedance."},
        {"insulation_low", read_other("z", "earth_ohms", 9e5), read_other("z", "earth_ohms", 1e6),
         "Foyer: 900 kΩ to earth, low: below 1 MΩ. Find the cause before switching the amplifier on."},
        {"tap_found_differs", read_other("p1", "tap_w", 10), read_other("p1", "tap_w", 5),
         "C-101: 10 W tap found, 5 W recorded. Correct the record."},
    };
}

inline std::vector<FindingCase> relation_cases() {
    return {
        {"missing_field", set("zone", "z", "name", Value()), set("zone", "z", "terminal", Value()),
         "Name of z: missing. Write 1 to 200 characters."},
        {"dangling_reference", set("point", "p1", "cable", "gone"), set("point", "p1", "cable", "c"),
         "Cable of C-101: There is no record with the id gone. Name a record of the kind Cable type."},
        {"wrong_kind", set("point", "p1", "cable", "amp"), set("point", "p1", "cable", "c"),
         "Cable of C-101: Rack amplifier is of the kind Amplifier. Name a record of the kind Cable type."},
        {"feed_loop", set("point", "p1", "fed_from", "p4"), set("point", "p1", "fed_from", "z"),
         "Fed from of C-101: The feed runs in a circle through C-104. Feed each point from its zone or from a point "
         "nearer to the amplifier."},
        {"tap_not_offered", set("point", "p1", "tap_w", 5.2), set("point", "p1", "tap_w", 5.04),
         "Tap of C-101: Ceiling 165 has no tap of 5.2 W. Its taps are 1 W, 2.5 W, 5 W, 6 W, 7.5 W, 10 W, 15 W, 30 W "
         "and 60 W."},
        {"shared_id", [](JobBuilder& job) { job.add("room", "p1"); }, [](JobBuilder& job) { job.add("room", "p9"); },
         "p1: Two records have the id p1. Every id must be unique; change one."},
    };
}

inline std::vector<FindingCase> all_finding_cases() {
    std::vector<FindingCase> all;
    for (const auto& part : {limit_cases(), point_cases(), reading_cases(), relation_cases()})
        all.insert(all.end(), part.begin(), part.end());
    return all;
}

}  // namespace tapwright
