// Published networks, through the records: what a job says must come out as its netlist does. Networks and figures:
// solved by ngspice and by an independent nodal solution; relative tolerance 1e-6 as printed.
#include "core/calc/line_state.h"

#include <doctest/doctest.h>

#include "core/readings/readings.h"
#include "tests/derive/job_builder.h"

using namespace tapwright;

namespace {

doctest::Approx near(double value, double relative = 1e-6) {
    return doctest::Approx(value).epsilon(relative);
}

// N1: a home run of 40 m, then 12 loudspeakers of 5 W at 5 m, 18 AWG of 20.95 ohm/km.
JobBuilder n1(double line_v = 70.7) {
    JobBuilder job = one_zone(line_v, 100);
    job.add("cable_type", "c", {{"ohm_per_km", 20.95}});
    job.chain("p", 12, "z", 5, {{"cable", "c"}, {"length_m", 5.0}});
    job.set("point", "p1", "length_m", 40.0);
    return job;
}

// N4: 20 m of feed, an attenuator, 10 m to the first of four loudspeakers, 5 m between them.
JobBuilder n4(const Map& attenuator) {
    JobBuilder job = one_zone(70.7, 100);
    job.add("cable_type", "c", {{"ohm_per_km", 20.95}});
    Map fields{{"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0, -9.0}}};
    fields.insert(fields.end(), attenuator.begin(), attenuator.end());
    job.add("attenuator_type", "a", fields);
    job.add("point", "w",
            {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}, {"cable", "c"}, {"length_m", 20.0}});
    job.chain("p", 4, "w", 5, {{"cable", "c"}, {"length_m", 5.0}});
    job.set("point", "p1", "length_m", 10.0);
    return job;
}

double zone_ohms(const Job& job) {
    return derive(job).zones[0].ohms.value();
}

}  // namespace

TEST_CASE("N1, the uniform ladder, by its records") {
    const JobBuilder job = n1();
    const Derived derived = derive(job);
    CHECK(derived.zones[0].ohms.value() == near(85.718660));
    CHECK(derived.lines[0].amps.value() == near(0.824791, 2e-6));
    CHECK(derived.lines[0].watts.value() == near(58.312741));
    CHECK(derived.lines[0].cable.value() == near(1.638681));
    CHECK(point_of(job, derived, "p1").volts.value() == near(69.317650));
    CHECK(point_of(job, derived, "p12").volts.value() == near(68.369865));
    CHECK(point_of(job, derived, "p1").watts.value() == near(4.806388));
    CHECK(point_of(job, derived, "p12").watts.value() == near(4.675851));
    CHECK(point_of(job, derived, "p12").level->value() == near(-0.291094, 1e-5));
    CHECK(point_of(job, derived, "p12").cable->value() == near(-0.291094, 1e-5));
}

TEST_CASE("N1 at other line voltages and temperatures") {
    CHECK(zone_ohms(n1(25)) == near(12.815763));
    CHECK(zone_ohms(n1(100)) == near(169.077992));
    CHECK(derive(n1(25)).lines[0].cable.value() == near(9.080739));
    CHECK(zone_ohms(n1().info("cable_c", 40.0)) == near(85.907984));
    CHECK(zone_ohms(n1().info("cable_c", 60.0)) == near(86.097287));
}

TEST_CASE("N5, one fault at a time on N1") {
    CHECK(zone_ohms(n1().set("point", "p12", "wired", "off")) == near(93.222945));
    CHECK(zone_ohms(n1().set("point", "p7", "tap_w", 10.0)) == near(79.335250));
    CHECK(zone_ohms(n1().set("speaker_type", "s", "taps_v", 100.0)) == near(169.077992));
    JobBuilder last_six = n1();
    for (int i = 7; i <= 12; ++i) last_six.set("point", "p" + std::to_string(i), "wired", "off");
    CHECK(zone_ohms(last_six) == near(168.612199));
}

TEST_CASE("N5: a loudspeaker on its 8 ohm setting") {
    JobBuilder job = n1();
    job.set("speaker_type", "s", "low_z_ohm", 8.0).set("point", "p6", "wired", "low_z");
    CHECK(zone_ohms(job) == near(10.029461));
    // Whatever its place, what it draws is V^2/8.
    CHECK(point_of(job, derive(job), "p6").drawn->value() == near(624.81125));
}

TEST_CASE("N4, attenuators at -6 dB") {
    CHECK(zone_ohms(n4({})) == near(251.364755));
    CHECK(zone_ohms(n4({}).set("point", "w", "knob_db", -6.0)) == near(998.202975));
    JobBuilder pad = n4({{"build", "l_pad"}, {"pad_ohm", 249.9245}});
    pad.set("point", "w", "knob_db", -6.0);
    const Derived derived = derive(pad);
    CHECK(derived.zones[0].ohms.value() == near(250.913598));
    CHECK(point_of(pad, derived, "p4").watts.value() == near(1.241769));
    // Without pad_ohm the nominal impedance of what hangs behind is taken: here the same 249.9245 ohm.
    JobBuilder assumed = n4({{"build", "l_pad"}});
    assumed.set("point", "w", "knob_db", -6.0);
    CHECK(zone_ohms(assumed) == near(250.913598));
}

TEST_CASE("N3, transformer models, at three frequencies") {
    JobBuilder job = n1();
    job.set("speaker_type", "s", "primary_ohm", 60.0).set("speaker_type", "s", "secondary_ohm", 50.0);
    job.set("speaker_type", "s", "leak_h", 0.012).set("speaker_type", "s", "mag_h", 1.6);
    const Wiring wiring = wire(job);
    const auto ohms_at = [&](double hz) { return solve_lines(job, wiring, {.hz = Hertz(hz)}).zones[0].ohms.value(); };
    CHECK(ohms_at(50) == near(41.208008));
    CHECK(ohms_at(330) == near(83.039180));
    CHECK(ohms_at(1000) == near(86.111544));
    CHECK(ohms_at(10000) == near(106.710237));
    CHECK(derive(job).zones[0].ohms.value() == near(86.111544));
    // Without a frequency the model is unused.
    CHECK(solve_lines(job, wiring, {}).zones[0].ohms.value() == near(85.718660));
}

TEST_CASE("attenuators: as left, full, as a reading says, and under an override") {
    JobBuilder job = n4({{"override", "energise"}});
    job.set("point", "w", "knob_db", "off");
    const Wiring wiring = wire(job);
    CHECK(std::isinf(solve_lines(job, wiring, {}).zones[0].ohms.value()));
    CHECK(solve_lines(job, wiring, {.knobs = Knobs::full}).zones[0].ohms.value() == near(251.364755));
    const KnobMap given{{Id("w"), Knob{Decibels(-6), false}}};
    CHECK(solve_lines(job, wiring, {.given = &given}).zones[0].ohms.value() == near(998.202975));
    CHECK(solve_lines(job, wiring, {.override_active = true}).zones[0].ohms.value() == near(251.364755));
}

TEST_CASE("a cable's resistance: by figure, by area, by gauge, or not at all") {
    CableType cable;
    CHECK_FALSE(conductor_of(cable, Celsius(20)));
    cable.awg = 18;
    CHECK(conductor_of(cable, Celsius(20))->value() == near(20.948236));  // IACS copper, ASTM B258
    cable.strand = CableStrand::stranded;
    CHECK(conductor_of(cable, Celsius(20))->value() == near(20.948236 * 1.02));
    cable.metal = CableMetal::cca;
    CHECK(conductor_of(cable, Celsius(20))->value() == near(20.948236 * 1.02 * 1.59));
    cable.area_mm2 = SquareMm(1.5);
    cable.metal = CableMetal::copper;
    CHECK(conductor_of(cable, Celsius(20))->value() == near(12.1));  // IEC 60228, class 2
    cable.iec_class = 5;
    CHECK(conductor_of(cable, Celsius(20))->value() == near(13.3));
    cable.area_mm2 = SquareMm(0.8);
    CHECK_FALSE(conductor_of(cable, Celsius(20)));
    cable.ohm_per_km = OhmsPerKm(20.95);
    CHECK(conductor_of(cable, Celsius(40))->value() == near(20.95 * 1.0786));
}

TEST_CASE("a low-impedance zone: what counts is ohms") {
    JobBuilder job = one_zone(70.7, 100);
    job.set("zone", "z", "output", "low_z").set("speaker_type", "s", "low_z_ohm", 8.0);
    job.add("point", "a",
            {{"kind", "speaker"}, {"type", "s"}, {"fed_from", "z"}, {"wired", "low_z"}, {"state", "fitted"}});
    job.add("point", "b", {{"kind", "speaker"}, {"type", "s"}, {"fed_from", "a"}, {"origin", "existing"}});
    job.set("channel", "out", "min_ohm", 4.0);
    Derived derived = derive(job);
    CHECK(derived.zones[0].low_impedance);
    CHECK(derived.zones[0].ohms.value() == near(4));
    CHECK(derived.zones[0].margin.load == Watts(0));
    CHECK_FALSE(derived.zones[0].margin.headroom);
    CHECK_FALSE(derived.zones[0].can_add);
    CHECK_FALSE(derived.has_stop());
    job.add("point", "c", {{"kind", "speaker"}, {"type", "s"}, {"fed_from", "b"}});  // planned
    derived = derive(job);
    CHECK(has_finding(derived, "below_min_ohm"));
    CHECK_FALSE(has_finding(derived, "low_z_on_line"));
}
