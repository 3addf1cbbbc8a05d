// A line drawn at random, in physical parts: ohms, taps, steps. It can be built as a tree in any order that keeps feeds
// before what they feed, and written as a netlist; the two roads share nothing but these parts.
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <type_traits>
#include <vector>

#include "core/line/transformer.h"
#include "core/line/tree.h"

namespace tapwright {

enum class DrawnKind { point, autotransformer, l_pad, off };

struct DrawnPoint {
    std::uint32_t hangs_on = 0;  // modulo (points before it + 1): 0 is the source, k the k-th point
    bool looped = false;         // fed from the other's input instead of its output
    DrawnKind kind = DrawnKind::point;
    double run_ohm = 0;
    double load_ohm = 0;  // V^2/P; 0: draws nothing. Of plain points only
    double step_db = 0;
    double insertion_db = 0;
    double pad_ohm = 8;
};

struct DrawnLine {
    double volts = 100;
    double hz = 1000;
    std::optional<TransformerModel> transformer;  // of every loudspeaker, its windings in shares of the tap's ohms
    std::vector<DrawnPoint> points;

    // Which point (0-based) feeds point k; nothing: the source.
    std::optional<std::size_t> feed_of(std::size_t k) const {
        const std::size_t choice = points[k].hangs_on % (k + 1);
        if (choice == 0) return std::nullopt;
        return choice - 1;
    }

    // The model for a tap of `load_ohm`, from windings given as shares and inductances given for 1 ohm.
    TransformerModel model_for(double load_ohm) const {
        TransformerModel model = *transformer;
        model.primary = model.primary * load_ohm;
        model.secondary = model.secondary * load_ohm;
        model.leakage = model.leakage * load_ohm;
        if (model.magnetising) *model.magnetising = *model.magnetising * load_ohm;
        return model;
    }
};

template <class Scalar>
struct DrawnTree {
    LineTree<Scalar> tree;
    LineRow source = 0;
    std::vector<LineRow> in;   // by point: its incoming terminals
    std::vector<LineRow> out;  // by point: its output terminals, the same unless it is an attenuator
};

template <class Scalar>
Scalar drawn_load(const DrawnLine& line, const DrawnPoint& point) {
    if (point.kind != DrawnKind::point || point.load_ohm == 0) return Scalar(0);
    if constexpr (!std::is_same_v<Scalar, double>) {
        if (line.transformer) {
            return transformer_at(line.model_for(point.load_ohm), Ohms(point.load_ohm), Hertz(line.hz))
                .value()
                .admittance;
        }
    }
    return Scalar(1 / point.load_ohm);
}

inline AttenuatorNetwork drawn_network(const DrawnPoint& point) {
    switch (point.kind) {
        case DrawnKind::autotransformer:
            return autotransformer(Decibels(point.step_db), Decibels(point.insertion_db));
        case DrawnKind::l_pad:
            return l_pad(Decibels(point.step_db), Ohms(point.pad_ohm));
        case DrawnKind::off:
            return switched_off();
        case DrawnKind::point:
            break;
    }
    return straight_through();
}

// Requires: `order` is a permutation of the points with every feed before what it feeds.
template <class Scalar>
DrawnTree<Scalar> tree_of(const DrawnLine& line, const std::vector<std::size_t>& order) {
    DrawnTree<Scalar> made;
    made.in.resize(line.points.size());
    made.out.resize(line.points.size());
    made.source = made.tree.add_source(Volts(line.volts));
    for (const std::size_t k : order) {
        const DrawnPoint& point = line.points[k];
        const auto feed = line.feed_of(k);
        const LineRow from = !feed ? made.source : point.looped ? made.in[*feed] : made.out[*feed];
        made.in[k] = made.tree.add_point(from, Ohms(point.run_ohm), drawn_load<Scalar>(line, point));
        made.out[k] = made.in[k];
        if (point.kind != DrawnKind::point) made.out[k] = made.tree.add_attenuator(made.in[k], drawn_network(point));
    }
    return made;
}

inline std::vector<std::size_t> drawn_order(const DrawnLine& line) {
    std::vector<std::size_t> order(line.points.size());
    for (std::size_t k = 0; k < order.size(); ++k) order[k] = k;
    return order;
}

template <class Scalar>
DrawnTree<Scalar> tree_of(const DrawnLine& line) {
    return tree_of<Scalar>(line, drawn_order(line));
}

}  // namespace tapwright
