// The networks of reference_networks.h and reference_transformers.h as trees.
#pragma once

#include <complex>
#include <vector>

#include "core/line/transformer.h"
#include "core/line/tree.h"
#include "tests/line/reference_networks.h"
#include "tests/line/reference_transformers.h"

namespace tapwright {

// rows[k] is the row of the network's k-th pair of terminals; rows[0] is the source.
template <class Scalar>
struct NetworkTree {
    LineTree<Scalar> tree;
    std::vector<LineRow> rows;
};

template <class Scalar>
NetworkTree<Scalar> tree_of(const reference::Network& network) {
    NetworkTree<Scalar> made;
    made.rows.push_back(made.tree.add_source(Volts(network.source_v)));
    for (const reference::Node& node : network.nodes) {
        const LineRow feed = made.rows[static_cast<std::size_t>(node.feed)];
        switch (node.link) {
            case reference::Link::run: {
                const double load = node.load_ohm > 0 ? 1 / node.load_ohm : 0;
                made.rows.push_back(made.tree.add_point(feed, Ohms(node.run_ohm), Scalar(load)));
                break;
            }
            case reference::Link::autotransformer:
                made.rows.push_back(made.tree.add_attenuator(feed, autotransformer(Decibels(-6), Decibels(0))));
                break;
            case reference::Link::l_pad:  // four taps of 999.698 ohm are behind it
                made.rows.push_back(made.tree.add_attenuator(feed, l_pad(Decibels(-6), Ohms(999.698 / 4))));
                break;
        }
    }
    return made;
}

inline TransformerModel n3_model() {
    return {.primary = Ohms(reference::n3_primary_ohm),
            .secondary = Ohms(reference::n3_secondary_ohm),
            .leakage = Henries(reference::n3_leakage_h),
            .magnetising = Henries(reference::n3_magnetising_h)};
}

inline TransformerSeen n3_speaker(double hz) {
    return transformer_at(n3_model(), Ohms(reference::n3_tap_ohm), Hertz(hz)).value();
}

// 40 m home run and eleven spans of 5 m, every loudspeaker the same.
template <class Scalar>
NetworkTree<Scalar> twelve_speakers(double source_v, Scalar load_s) {
    NetworkTree<Scalar> made;
    made.rows.push_back(made.tree.add_source(Volts(source_v)));
    for (int k = 1; k <= 12; ++k) {
        made.rows.push_back(made.tree.add_point(made.rows.back(), Ohms(k == 1 ? 1.676 : 0.2095), load_s));
    }
    return made;
}

}  // namespace tapwright
