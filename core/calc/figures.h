// Figures: loads, headroom and the solved line of every zone, output, amplifier and point. What core/calc fills and
// everything above it reads.
//
// Every list runs parallel to the records it speaks of: zones[i] belongs to job.all<Zone>()[i], and so on.
// An absent optional is "unknown", never 0. Definitions: docs/calculations.md.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "core/units/quantity.h"

namespace tapwright {

// ---- loads (core/calc/loads.h) ----------------------------------------------------------------------------------

// What a load figure rests on. `at_least`: some loudspeaker has neither a tap nor a plan, so the sum is a lower bound.
enum class Basis : std::uint8_t { as_built, planned, at_least };
std::string_view word(Basis basis);

// A load against one limit.
struct Margin {
    Watts load{0};
    Basis basis = Basis::as_built;
    std::optional<Watts> limit;
    std::optional<Watts> reserve;    // of the limit, kept free
    std::optional<Watts> headroom;   // limit - reserve - load; negative once into the reserve
    std::optional<double> used_pct;  // load / limit x 100

    // How far the load, and what is drawn `besides` without being recorded, is over the limit; absent within it, and
    // where no limit is known.
    std::optional<Watts> over(Watts besides = Watts(0)) const {
        if (!limit || !(load + besides > *limit)) return std::nullopt;
        return load + besides - *limit;
    }
    // The headroom that is left once what is drawn `besides` is counted too.
    std::optional<Watts> headroom_with(Watts besides) const {
        if (!headroom) return std::nullopt;
        return *headroom - besides;
    }
};

struct ZoneState {
    Volts line_v{0};
    std::uint32_t speakers = 0;
    bool low_impedance = false;  // a low_z zone: no tap sum, load and what follows from it are absent
    Margin margin;
    Watts unrecorded{0};                     // drawn according to a reading, but not in the records
    std::optional<Watts> headroom_measured;  // headroom - unrecorded
    std::optional<Watts> can_add;            // the least on the way to the amplifier, >= 0; absent: unknown
    Ohms ohms{0};                            // expected with the attenuators as left; infinite where nothing draws
    std::optional<std::uint32_t> channel;    // its place in job.all<Channel>()
    std::optional<std::uint32_t> amplifier;
};

struct ChannelState {
    Margin margin;
    Watts unrecorded{0};
    std::optional<std::uint32_t> amplifier;
    Ohms ohms{0};       // all its zones in parallel, attenuators as left
    Ohms ohms_full{0};  // the same with every attenuator at 0 dB: what min_ohm is held against
};

struct AmplifierState {
    Margin margin;
    Watts unrecorded{0};
    std::optional<std::uint32_t> only_channel;  // where it has exactly one
};

// Watts that may be added, for people: never more than there are, so rounded down to the tenth.
Watts may_add(Watts can_add);

// ---- the line (core/calc/line_state.h) --------------------------------------------------------------------------

inline constexpr std::uint32_t nowhere = 0xFFFFFFFFu;

struct PointOnLine {
    std::uint32_t zone = nowhere;  // its place in job.all<Zone>(); nowhere: not traced to a zone
    std::uint32_t feed = nowhere;  // the point it is fed from; nowhere: fed from the zone itself, or not traced
    bool traced = false;
    std::optional<Watts> drawn;  // a loudspeaker's watts at the line voltage; absent: no tap known
    Watts behind{0};             // an attenuator's: tap watts behind it (feed_side out)
    Basis behind_basis = Basis::as_built;
    std::optional<Watts> rating;   // an attenuator's, scaled to the line voltage
    std::optional<Watts> can_add;  // as the zone's, and every attenuator's rating before it

    // The solution, attenuators as left. Zero volts where nothing arrives.
    Volts volts{0};
    Watts watts{0};                 // into its own load (a loudspeaker's line terminals)
    Ohms ohms{0};                   // looking into its incoming terminals, away from the amplifier
    Watts carried{0};               // what arrives there for it and all behind it: volts^2 / ohms
    std::optional<Decibels> level;  // of a loudspeaker: 10 lg(watts / drawn); absent when silent or not a loudspeaker
    std::optional<Decibels> cable;  // the same with attenuators straight through and lossless
};

struct ZoneLine {
    Volts volts{0};
    Amps amps{0};
    Watts watts{0};
    Ohms ohms{0};
    Watts delivered{0};
    Watts cable{0};
    Watts attenuator{0};
};

struct Figures {
    std::vector<ZoneState> zones;
    std::vector<ChannelState> channels;
    std::vector<AmplifierState> amplifiers;
    std::vector<PointOnLine> points;
    std::vector<ZoneLine> lines;  // one a zone
};

}  // namespace tapwright
