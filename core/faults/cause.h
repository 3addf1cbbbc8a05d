// What can be wrong with a line, as data. core/words says it; no member is a sentence.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/unit.h"
#include "core/faults/line_effects.h"

namespace tapwright {

enum class FaultKind : std::uint8_t {
    none,        // the record is right
    dead,        // a loudspeaker draws nothing
    broken,      // a run is open: all behind it is dead
    shorted,     // a loudspeaker or a run
    tap,         // on another of its type's taps
    bypass,      // on its low-impedance setting
    joint,       // resistance in a run
    leak,        // resistance across a run
    extra,       // a load nobody recorded, at or behind a point
    position,    // an attenuator elsewhere than noted
    missing,     // planned and connected all the same
    wrong_feed,  // fed from elsewhere than recorded
    earth,       // a conductor to earth
    crossed,     // two lines touch
};
std::string_view word(FaultKind kind);

// Whether it is the record that would be corrected, not the line.
constexpr bool is_of_record(FaultKind kind) {
    return kind == FaultKind::tap || kind == FaultKind::position || kind == FaultKind::missing ||
           kind == FaultKind::wrong_feed;
}

// One thing that is otherwise than recorded. Places are in job.all<Point>().
struct Fault {
    FaultKind kind = FaultKind::none;
    std::vector<std::uint32_t> points;  // what it is at; for a run the point it feeds
    std::optional<double> value;        // in `unit`
    Unit unit = Unit::none;
    bool is_off = false;               // of a position
    std::uint32_t feed = 0xFFFFFFFFu;  // of wrong_feed: the point it would be fed from; else the zone itself
    std::vector<LineChange> changes;
};

// One hypothesis: none, one or two faults.
struct Cause {
    std::vector<Fault> faults;
    double weight = 0;
    std::uint32_t place = 0;  // causes of one place are told apart last
    double chance = 0;
    std::array<std::uint32_t, 2> alone{};  // of two faults: the places each has by itself
};

}  // namespace tapwright
