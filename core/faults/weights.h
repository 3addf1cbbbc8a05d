// THE TABLE OF WEIGHTS: how likely each kind of fault is before anything is read, how far readings stray from what is
// computed, and what a measurement costs. Common practice, no single source: nobody publishes such counts, so the
// figures are ours and are kept in one place. Whoever asks (FaultQuestion) may give others.
#pragma once

#include <array>

namespace tapwright {

// Weights of one point, against each other; only their ratios count.
struct FaultWeights {
    double dead = 0.35;
    double broken = 0.20;
    double tap = 0.15;  // shared among the type's other taps
    double shorted = 0.08;
    double bypass = 0.05;
    double joint = 0.07;       // shared among joint_ohm
    double leak = 0.05;        // shared among leak_ohm
    double extra = 0.05;       // shared among extra_w
    double position = 0.10;    // of an attenuator, shared among its other positions
    double missing = 0.10;     // of a planned loudspeaker that is connected all the same
    double wrong_feed = 0.03;  // shared among the likeliest places
    double untraced = 2.0;     // that loudspeakers of which nobody knows the feed are on this line
    double earth = 0.5;        // of a whole line, once its insulation was read
    double crossed = 0.5;
    // Against the sum of all of them: that the record is right, that something else is wrong, that two things are.
    double none = 0.5;
    double unexplained = 0.03;
    double pairs = 0.05;
    double snag = 3;  // an open snag about a point makes what is wrong there so many times likelier

    // What is tried for.
    double short_ohm = 0.5;
    double bypass_ohm = 8;  // where the type does not say
    std::array<double, 3> joint_ohm{10, 40, 160};
    std::array<double, 2> leak_ohm{500, 2000};
    std::array<double, 3> extra_w{5, 10, 20};
};

// Standard deviations as shares, of logarithms.
struct FaultSpreads {
    double meter_of_accuracy = 1.0 / 3;  // of a reading: this share of what its meter may be off
    double unit = 0.04;                  // one loudspeaker against the others
    double common = 0.06;                // all of a line together
    double unknown_tap = 0.7;            // a loudspeaker whose tap nobody knows
    // A DC ohmmeter sees the copper of the transformers, of which the record mostly says nothing.
    double dc_share = 0.08;  // of the impedance at 1 kHz
    double dc_unit = 0.3;
    double dc_common = 0.5;
    // How far readings may be off where something else is wrong: a little, or beyond all likeness.
    std::array<double, 3> unexplained{0.1, 0.3, 1.0};
    double range_ohm = 20e3;  // of a meter whose range is not recorded
    // That a loudspeaker is recorded as silent though it plays, or as playing though it is silent.
    double misheard_silent = 0.03;
    double misheard_playing = 0.05;
    double wrong_insulation = 0.01;
    double misread_tap = 0.02;
};

// Minutes.
struct MeasurementCosts {
    double at_amplifier = 4;     // both conductors disconnected, read, connected again
    double at_joint = 6;         // opened, read, closed
    double at_wall = 5;          // an attenuator
    double at_loudspeaker = 10;  // ladder, tile, cable disconnected, read, put back
    double look_at_tap = 9;
    double look_from_ladder = 1;  // where the latest reading was taken
    double listen = 0.3;          // in the room, while something plays
    double listen_further = 0.2;  // each further loudspeaker on one walk past several
    double turn = 1;              // an attenuator turned or switched off
    double ceiling_of_plaster = 5;
    double metre_above_3 = 3;   // each metre of ceiling height above 3 m
    double by_arrangement = 5;  // the room's record names hours, a permit or the like
    double another_room = 1;
    double room_between = 0.2;  // each step of the walking order
};

// How sure is sure: the search ends where one place has this chance.
inline constexpr double sure_chance = 0.9;
inline constexpr double least_chance_shown = 0.01;

}  // namespace tapwright
