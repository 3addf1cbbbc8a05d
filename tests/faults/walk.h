// Walks to the faults of simulated lines by the program's advice, as a person would, and counts.
#pragma once

#include "core/faults/next_measurement.h"
#include "tests/faults/family.h"

namespace tapwright::test {

struct WalkOptions {
    NextOptions next{};
    std::size_t most = 12;
    FaultSpreads spreads{};
    FaultWeights weights{};
};

struct Walk {
    std::size_t measurements = 0;
    double minutes = 0;
    std::optional<std::size_t> place;  // loudspeaker; absent: none, or not one of them
    std::vector<std::size_t> named;    // loudspeakers the likeliest cause names: two of a pair
    bool is_none = false;              // "the record is right" is the likeliest
    double chance = 0;                 // of the likeliest place
    double unexplained = 0;
};

// What a meter shows at that record: ohms at 1 kHz, or DC ohms of the whole line.
Reading reading_at(const SimulatedLine& line, const Id& at, Measured quantity = Measured::ohms);

Walk walk_to_fault(const SimulatedLine& line, const WalkOptions& options);

// Several faults: the person follows the advice to its end, goes to what is named, puts right what is wrong there,
// reads the zone again and starts over, until the program says that the record is right, that nothing it knows explains
// the readings, or names a place where nothing is wrong.
enum class RepairEnd : std::uint8_t { all_found, said_right, said_unexplained, misled };
struct Repairs {
    RepairEnd end = RepairEnd::misled;
    std::size_t found = 0;
    bool is_at_once = false;  // all were named together, the first time
    std::size_t misled = 0;   // visits to places where nothing was wrong
    std::size_t measurements = 0;
    double unexplained = 0;  // at the end
    double chance = 0;       // of what was named last
};
// `pardoned`: so many times somebody who finds nothing wrong reads there, notes the tap, and goes on.
Repairs walk_and_repair(SimulatedLine line, const WalkOptions& options, std::size_t pardoned);

// The same place, or one run of cable apart.
bool is_near(const SimulatedLine& line, std::size_t a, std::size_t b);

struct Tally {
    std::size_t lines = 0;
    double measurements = 0;
    std::size_t right = 0;
    std::size_t sure_and_wrong = 0;
    std::size_t in_80_to_90 = 0;  // first chances between 0.8 and 0.9, and how many of them were right
    std::size_t right_80_to_90 = 0;

    double mean() const { return measurements / static_cast<double>(lines); }
    double share(std::size_t count) const { return static_cast<double>(count) / static_cast<double>(lines); }
};
Tally tally(const FamilyOptions& family, const WalkOptions& options, std::size_t lines, std::uint64_t seed);
void add_to(Tally& tally, const SimulatedLine& line, const Walk& walk);

}  // namespace tapwright::test
