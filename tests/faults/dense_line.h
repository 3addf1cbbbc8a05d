// A line as a full set of equations, solved by elimination with pivoting: what the tests hold the program against. It
// knows nothing of trees, passes or updates.
#pragma once

#include <vector>

#include "core/line/attenuator.h"

namespace tapwright::test {

struct DenseNode {
    int feed = -1;           // -1: the source
    double run = 0;          // > 0; infinite: open
    double load = 0;         // siemens
    bool is_output = false;  // of an attenuator whose input is the feed: no run
    AttenuatorNetwork network{};
};

// Node 0 is the source; feed 0 is fed from it.
class DenseLine {
public:
    DenseLine() { nodes.push_back({}); }
    std::vector<DenseNode> nodes;

    // Siemens looking into a node away from the source.
    double siemens(std::size_t at) const;
    // Volts at `there` with one volt at `at`.
    double volts(std::size_t at, std::size_t there) const;
    bool is_behind(std::size_t node, std::size_t upper) const;

private:
    // Volts of all nodes behind `at`, and last the amps that go in.
    std::vector<double> solved(std::size_t at) const;
};

}  // namespace tapwright::test
