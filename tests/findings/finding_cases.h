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
            {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"cable", "c"}, {"length_m", 10.0}});
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
        {"zone_over_limit", set("zone", "z", "limit_w", 19.0), set("zone", "z", "limit_w", 20.0), "1 W too much"},
        {"zone_into_reserve", set("zone", "z", "limit_w", 24.9), set("zone", "z", "limit_w", 25.0), "into the reserve"},
        {"channel_over_limit", set("channel", "out", "rated_w", 19.0), set("channel", "out", "rated_w", 20.0),
         "rating of 19 W"},
        {"channel_into_reserve", set("channel", "out", "rated_w", 24.9), set("channel", "out", "rated_w", 25.0),
         "into the reserve"},
        {"amplifier_over_limit", set("amplifier", "amp", "rated_w", 19.0), set("amplifier", "amp", "rated_w", 20.0),
         "rating of 19 W"},
        {"amplifier_into_reserve", set("amplifier", "amp", "rated_w", 24.9), set("amplifier", "amp", "rated_w", 25.0),
         "into the reserve"},
        {"measured_into_reserve", read(70.7 * 70.7 / 81), read(70.7 * 70.7 / 79), "more was measured"},
        {"can_add_unknown", set("zone", "z", "limit_w", Value()), set("channel", "out", "rated_w", Value()),
         "the zone's limit"},
        {"below_min_ohm", set("channel", "out", "min_ohm", 260.0), set("channel", "out", "min_ohm", 240.0),
         "with every knob full"},
        {"attenuator_over_rating", set("attenuator_type", "a", "rated_w", 19.0),
         set("attenuator_type", "a", "rated_w", 20.0), "rated for 19 W"},
        {"zone_without_reading", [](JobBuilder& job) { job.remove("reading", "r"); }, [](JobBuilder&) {},
         "is expected"},
        {"changed_since_reading",
         [](JobBuilder& job) {
             job.set("reading", "r", "expected_ohm", 253.0);
             job.set("point", "p4", "tap_w", 7.5);
         },
         [](JobBuilder& job) { job.set("reading", "r", "expected_ohm", 251.0); }, "Read it again"},
        {"override_over_supply",
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "energise").set("attenuator_type", "a", "coil_ma", 60.0);
             job.add("interface", "i", {{"kind", "override_24v"}, {"amplifier", "amp"}, {"supply_ma", 50.0}});
         },
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "energise").set("attenuator_type", "a", "coil_ma", 50.0);
             job.add("interface", "i", {{"kind", "override_24v"}, {"amplifier", "amp"}, {"supply_ma", 50.0}});
         },
         "need 60 mA"},
        {"interface_not_tested",
         [](JobBuilder& job) {
             job.add("interface", "i", {{"kind", "fire_mute"}});
         },
         [](JobBuilder& job) {
             job.add("interface", "i", {{"kind", "fire_mute"}, {"tested", "2024-05-01"}});
         },
         "seen to work"},
    };
}

inline std::vector<FindingCase> point_cases() {
    return {
        {"drawn_above_max", set("speaker_type", "s", "max_w", 4.9), set("speaker_type", "s", "max_w", 5.0),
         "may be given 4.9 W"},
        {"low_z_on_line",
         [](JobBuilder& job) { job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p1", "wired", "low_z"); },
         [](JobBuilder& job) {
             job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p1", "wired", "low_z");
             job.set("zone", "z", "output", "low_z");
         },
         "624.81 W"},
        {"type_for_other_voltage", set("speaker_type", "s", "taps_v", 100.0), set("speaker_type", "s", "taps_v", 70.0),
         "marked for 100 V"},
        {"attenuator_behind_attenuator",
         [](JobBuilder& job) {
             job.add("point", "w2", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "p1"}});
         },
         [](JobBuilder& job) {
             job.add("point", "w2", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "w"}, {"feed_side", "in"}});
         },
         "turned down twice"},
        {"override_not_tested", set("attenuator_type", "a", "override", "release"),
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "override", "release").set("point", "w", "override_tested", "2024-05-01");
         },
         "announcement"},
        {"pad_assumed", set("attenuator_type", "a", "build", "l_pad"),
         [](JobBuilder& job) {
             job.set("attenuator_type", "a", "build", "l_pad").set("attenuator_type", "a", "pad_ohm", 250.0);
         },
         "249.92 ohm"},
        {"speaker_without_tap", set("point", "p1", "tap_w", Value()),
         [](JobBuilder& job) { job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0); },
         "neither its tap"},
        {"tap_not_confirmed",
         [](JobBuilder& job) {
             job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0);
             job.set("point", "p1", "state", "fitted");
         },
         [](JobBuilder& job) {
             job.set("point", "p1", "tap_w", Value()).set("point", "p1", "planned_tap_w", 5.0);
             job.set("point", "p1", "state", "cabled");
         },
         "planned tap of 5 W"},
        {"tap_off_plan", set("point", "p1", "planned_tap_w", 10.0), set("point", "p1", "planned_tap_w", 5.0),
         "set to 5 W, planned 10 W"},
        {"point_not_traced", set("point", "p4", "fed_from", Value()), [](JobBuilder&) {}, "Trace its run"},
        {"polarity_reversed", set("point", "p1", "polarity", "reversed"), set("point", "p1", "polarity", "ok"),
         "Swap its two wires"},
        {"walk_test_fault", set("point", "p1", "heard", "buzz"), set("point", "p1", "heard", "ok"), "\"buzz\""},
        {"type_unknown", set("point", "p1", "type", Value()), [](JobBuilder&) {}, "its type is not recorded"},
        {"speaker_disconnected", set("point", "p1", "wired", "off"), set("point", "p1", "wired", "line"),
         "not connected"},
        {"model_not_possible", set("speaker_type", "s", "primary_ohm", 1000.0),
         set("speaker_type", "s", "primary_ohm", 900.0), "windings"},
        {"cable_loss_over_limit", set("point", "w", "length_m", 900.0), set("point", "w", "length_m", 600.0),
         "of its watts"},
        {"cable_loss_over_half", set("point", "w", "length_m", 500.0), set("point", "w", "length_m", 200.0),
         "More than half"},
        {"cable_unknown", set("point", "p2", "length_m", Value()), [](JobBuilder&) {}, "of 1 run is"},
    };
}

inline std::vector<FindingCase> reading_cases() {
    return {
        {"reading_open", read(2000, {{"over_range", true}}), read(253), "OPEN"},
        {"reading_short", read(3), read(253), "SHORT"},
        {"reading_more_load", read(190), read(210), "MORE LOAD"},
        {"reading_less_load", read(310), read(290), "LESS LOAD"},
        {"reading_drifted", [](JobBuilder& job) { job.set("reading", "r", "baseline", true).read("r2", "z", 267); },
         [](JobBuilder& job) { job.set("reading", "r", "baseline", true).read("r2", "z", 264); }, "DRIFTED"},
        {"reading_over_limit", read(70.7 * 70.7 / 101), read(70.7 * 70.7 / 99), "Above the limit"},
        {"reading_far_over_limit", read(70.7 * 70.7 / 126), read(70.7 * 70.7 / 124), "1.25 times"},
        {"reading_below_min_ohm",
         [](JobBuilder& job) { job.set("channel", "out", "min_ohm", 200.0).read("r2", "z", 199); },
         [](JobBuilder& job) { job.set("channel", "out", "min_ohm", 200.0).read("r2", "z", 201); }, "STOP: below"},
        {"stray_voltage", read_other("z", "stray_v", 2.1), read_other("z", "stray_v", 1.9), "TOO MUCH"},
        {"insulation_low", read_other("z", "earth_ohms", 9e5), read_other("z", "earth_ohms", 1e6), "LOW"},
        {"tap_found_differs", read_other("p1", "tap_w", 10), read_other("p1", "tap_w", 5), "10 W was found"},
    };
}

inline std::vector<FindingCase> relation_cases() {
    return {
        {"missing_field", set("zone", "z", "name", Value()), set("zone", "z", "terminal", Value()), "is missing"},
        {"dangling_reference", set("point", "p1", "cable", "gone"), set("point", "p1", "cable", "c"), "no such record"},
        {"wrong_kind", set("point", "p1", "cable", "amp"), set("point", "p1", "cable", "c"), "which is an amplifier"},
        {"feed_loop", set("point", "p1", "fed_from", "p4"), set("point", "p1", "fed_from", "z"), "in a circle"},
        {"tap_not_offered", set("point", "p1", "tap_w", 5.2), set("point", "p1", "tap_w", 5.04), "does not have"},
        {"shared_id", [](JobBuilder& job) { job.add("room", "p1"); }, [](JobBuilder& job) { job.add("room", "p9"); },
         "unique over all kinds"},
    };
}

inline std::vector<FindingCase> all_finding_cases() {
    std::vector<FindingCase> all;
    for (const auto& part : {limit_cases(), point_cases(), reading_cases(), relation_cases()})
        all.insert(all.end(), part.begin(), part.end());
    return all;
}

}  // namespace tapwright
