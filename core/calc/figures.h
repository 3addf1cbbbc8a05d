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

#include "core/units/limit.h"

namespace tapwright {

// ---- loads (core/calc/loads.h) ----------------------------------------------------------------------------------

// What a load figure rests on. `at_least`: some loudspeaker has neither a tap nor a plan, so the sum is a lower bound.
enum class Basis : std::uint8_t { as_built, planned, at_least };
std::string_view word(Basis basis);

// A load against one limit. There is one headroom, and this is it: what every screen, command and sheet shows.
struct Margin {
    Watts load{0};  // recorded: all that counts, planned too
    Basis basis = Basis::as_built;
    // Whether a tap that is not recorded may add to the load and to what is unrecorded: on a loudspeaker that no valid
    // reading has seen, on a low-impedance line or an emergency line, which are not summed at all.
    bool is_open_ended = false;
    std::optional<Watts> limit;
    std::optional<Watts> reserve;            // of the limit, kept free
    Watts unrecorded{0};                     // drawn according to a reading, but not in the record
    std::optional<Watts> headroom;           // limit - reserve - load - unrecorded; negative once into the reserve
    std::optional<Watts> headroom_recorded;  // the same by the record alone
    std::optional<double> used_pct;          // load / limit x 100

    // What is drawn as far as anybody knows.
    Watts drawn() const { return load + unrecorded; }
    // How far that is over the limit; absent within it, reached exactly too (core/units/limit.h), and where no limit is
    // known. headroom and headroom_recorded keep to the same: 0 where only rounding is left.
    std::optional<Watts> over() const { return limit ? above_most(drawn(), *limit) : std::nullopt; }
    // The same by the record alone.
    std::optional<Watts> over_recorded() const { return limit ? above_most(load, *limit) : std::nullopt; }
};

// What is not recorded of a zone, so that its figures are bounds. A run without cable or length is taken as 0 ohm and
// an attenuator without a position as full: the impedance is at least what is said. A loudspeaker without a tap, or one
// that is not traced, draws more than is said: the impedance is at most that.
struct NotRecorded {
    std::uint32_t runs = 0;
    std::uint32_t positions = 0;
    std::uint32_t taps = 0;  // of loudspeakers that are connected
    std::uint32_t untraced =
        0;  // loudspeakers in the rooms of this zone, or in no room, of which nobody knows the feed

    bool may_be_higher() const { return runs > 0 || positions > 0; }
    bool may_be_lower() const { return taps > 0 || untraced > 0; }
    void add(const NotRecorded& more) {
        runs += more.runs;
        positions += more.positions;
        taps += more.taps;
        untraced += more.untraced;
    }
};

struct ZoneState {
    Volts line_v{0};
    std::uint32_t speakers = 0;   // that count: all but those recorded as not connected
    std::uint32_t connected = 0;  // of these, on the line now; the others are planned
    bool low_impedance = false;   // a low_z zone: no tap sum, load and what follows from it are absent
    bool emergency = false;       // a fire or emergency line: nothing of it is computed
    Margin margin;
    std::optional<Watts> can_add;  // the least on the way to the amplifier, >= 0; absent: unknown
    // Expected looking out from the amplifier; infinite where nothing draws.
    Ohms ohms{0};       // what is connected, attenuators as left
    Ohms ohms_full{0};  // the same with every attenuator at 0 dB
    Ohms ohms_all{0};   // once all that is planned is connected, attenuators as left
    NotRecorded not_recorded;
    // In job.all<Reading>(): the reading `unrecorded` rests on, and the latest that is believed.
    std::optional<std::uint32_t> reading;
    std::optional<std::uint32_t> latest_reading;
    std::optional<std::uint32_t> channel;  // its place in job.all<Channel>()
    std::optional<std::uint32_t> amplifier;

    std::uint32_t planned() const { return speakers - connected; }
};

struct ChannelState {
    Margin margin;
    std::optional<std::uint32_t> amplifier;
    Ohms ohms{0};           // all its zones in parallel, attenuators as left
    Ohms ohms_full{0};      // the same with every attenuator at 0 dB
    Ohms ohms_all{0};       // once all that is planned is connected
    Ohms ohms_all_full{0};  // both: what min_ohm is held against
};

struct AmplifierState {
    Margin margin;
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
    bool connected = false;      // a loudspeaker that is on the line now
    bool emergency = false;      // part of a fire or emergency system, or behind such a part
    std::optional<Watts> drawn;  // a loudspeaker's watts at the line voltage; absent: no tap known
    Watts behind{0};             // an attenuator's: tap watts behind it (feed_side out)
    Basis behind_basis = Basis::as_built;
    std::optional<Watts> rating;   // an attenuator's, scaled to the line voltage
    std::optional<Watts> can_add;  // as the zone's, and every attenuator's rating before it

    // The solution of what is connected, attenuators as left. Zero volts where nothing arrives.
    Volts volts{0};
    Watts watts{0};                 // into its own load (a loudspeaker's line terminals)
    Ohms ohms{0};                   // looking into its incoming terminals, away from the amplifier
    Watts carried{0};               // what arrives there for it and all behind it: volts^2 / ohms
    std::optional<Decibels> level;  // of a loudspeaker: 10 lg(watts / drawn); absent when silent or not a loudspeaker
    std::optional<Decibels> cable;  // the same with attenuators straight through and lossless
    bool is_past_unknown_run = false;  // fed through a run without cable or length: level and loss are bounds
    // Of what is read there, looking away from the amplifier; the run that feeds it is none of that.
    NotRecorded not_recorded;
    std::uint32_t planned_without_tap = 0;  // loudspeakers there and behind that are not connected yet
    // Once all that is planned is connected.
    Ohms ohms_all{0};
    std::optional<Decibels> cable_all;
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
