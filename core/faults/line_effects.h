// What one change to a line does to every reading of it, in constant time a place after one pass up and one down.
//
// A change is laid across a row (core/line/tree.h) as siemens, or lies in what feeds the row. With the line driven at
// row r and everything towards the amplifier cut off, a change d across row f behind it moves the admittance there by
//
//     Y' = Y + T R d / (1 + d Z)
//
// with T the volts at f for a volt at r, R the amps at r for an amp put in at f, and Z the impedance between f's own
// terminals while r is held (Sherman and Morrison's formula for a change of rank one; from memory). T and R are the
// same in a line of cable and are kept apart here, because an autotransformer with insertion loss is no such line.
// One pass down finds T, R and Z towards the amplifier; towards any other row on the way they follow by division and
// one subtraction.
//
// How uncertain a reading is goes along. A loudspeaker that draws g, uncertain by its share w, moves the admittance at
// r by T R g w. What a change does to all those movements is a polynomial in quantities that add up along the way, so
// their squares, their products with what they were before, and their plain sum are known at every place in constant
// time as well. Derivation, limits and examples: docs/calculations.md, "Faults".
#pragma once

#include <vector>

#include "core/line/tree.h"

namespace tapwright {

// One thing that is otherwise than recorded, in terms of rows.
struct LineChange {
    enum class What : std::uint8_t {
        load_times,  // the load of a point's row: times `value`
        load_is,     // instead of it: `value` siemens that nobody is unsure of
        across,      // beside it: `value` siemens
        run_ohm,     // the run that feeds a point's row: `value` ohms; infinite: open
        network,     // an attenuator's row: another position
    };
    What what = What::across;
    LineRow row = 0;
    double value = 0;
    AttenuatorNetwork network{};
};

// What a meter sees at one row, looking away from the amplifier.
struct RowView {
    double siemens = 0;
    double squares = 0;  // of the movements of each loudspeaker behind it, siemens squared
    double crossed = 0;  // each movement times what it was without the change
    double linear = 0;   // siemens moved by where all loudspeakers move together
};

// One row that others are held against: where their ways to the amplifier meet.
struct WatchedRow {
    LineRow row = 0;
    std::vector<double> meeting;  // by row: steepness (see LineEffects) of where it meets this one
};

class LineEffects {
public:
    // `unsure`: by row, how uncertain its load is as a share of what is usual (1). Requires: one line; an entry a row.
    LineEffects(LineTree<double> tree, std::vector<double> unsure);

    const LineTree<double>& tree() const { return tree_; }
    std::size_t rows() const { return feed_.size(); }
    bool is_behind(LineRow row, LineRow upper) const {
        return enter_[row] >= enter_[upper] && enter_[row] < leave_[upper];
    }
    // As recorded.
    RowView as_recorded(LineRow row) const { return {siemens_[row], squares_[row], squares_[row], linear_[row]}; }
    // How a movement at `lower` arrives at `upper`. Requires: is_behind(lower, upper).
    double passing(LineRow upper, LineRow lower) const;
    // Volts there for one volt at the source; 0 behind what is off.
    double volts(LineRow row) const { return root_[row] == 0 ? forward_[row] : 0; }
    WatchedRow watched(LineRow row) const;

private:
    friend class SingleEffect;
    friend class WalkedEffect;

    // What passes from a row to its feed.
    struct Link {
        double siemens = 0;
        double forward = 1;  // volts here for one at the feed
        double passing = 1;  // how a movement here arrives there
    };
    Link link(LineRow row, double siemens) const { return link(row, siemens, run_[row], networks_[row]); }
    Link link(LineRow row, double siemens, double run, std::int32_t network) const;
    static Link run_link(double siemens, double run);
    static Link network_link(double siemens, const AttenuatorNetwork& network);

    void number_rows();
    void fold();
    void spread();

    LineTree<double> tree_;
    std::vector<LineRow> feed_;
    std::vector<double> run_;
    std::vector<double> load_;
    std::vector<double> moves_;           // the row's own movement: load x unsure
    std::vector<std::int32_t> networks_;  // in tree_.specials(); -1: a run feeds it
    std::vector<std::uint32_t> enter_;    // rows numbered so that a branch is one stretch
    std::vector<std::uint32_t> leave_;
    // Up.
    std::vector<double> siemens_;
    std::vector<double> squares_;
    std::vector<double> linear_;
    std::vector<Link> links_;
    // Down, towards the root: the source, or the output of the last attenuator on the way that is off.
    std::vector<LineRow> root_;
    std::vector<double> forward_;    // T
    std::vector<double> through_;    // T R
    std::vector<double> impedance_;  // Z
    std::vector<double> steepness_;  // Z / (T R)
    // Sums over the rows from the root to before this one, of what hangs there beside the way: squares (T R)^2 s^i and
    // linear (T R) s^i, s the steepness.
    struct Sums {
        double squares[5] = {};
        double linear[3] = {};
    };
    std::vector<Sums> sums_;
};

// How a line with something otherwise than recorded looks. Cheap to ask, and nothing is solved again.
class Effect {
public:
    virtual ~Effect() = default;
    virtual RowView at(LineRow row) const = 0;
    // How a movement at `lower` arrives at `upper`. Requires: lower is behind upper.
    virtual double passing(LineRow upper, const WatchedRow& lower) const = 0;
    // Volts there for one at the source.
    virtual double volts(const WatchedRow& row) const = 0;
};

// Nothing is otherwise.
class NoEffect : public Effect {
public:
    explicit NoEffect(const LineEffects& line) : line_(line) {}
    RowView at(LineRow row) const override { return line_.as_recorded(row); }
    double passing(LineRow upper, const WatchedRow& lower) const override { return line_.passing(upper, lower.row); }
    double volts(const WatchedRow& row) const override { return line_.volts(row.row); }

private:
    const LineEffects& line_;
};

// One change, in constant time. Requires: not the position of an attenuator that is off as recorded
// (can_be_single); that one is walked.
class SingleEffect : public Effect {
public:
    SingleEffect(const LineEffects& line, const LineChange& change);
    static bool can_be_single(const LineEffects& line, const LineChange& change);

    RowView at(LineRow row) const override;
    double passing(LineRow upper, const WatchedRow& lower) const override;
    double volts(const WatchedRow& row) const override;

private:
    struct Seen;  // the change as it is seen from one row
    Seen seen_from(LineRow upper) const;

    void change_load(double siemens, double moves);
    void change_link(LineRow row, const LineEffects::Link& link);

    const LineEffects& line_;
    LineRow row_ = 0;  // what lies towards the amplifier from here, this row included, sees it
    double across_ = 0;
    RowView here_;
    bool has_link_ = false;  // a link is otherwise: what is behind link_row_ arrives otherwise
    LineRow link_row_ = 0;
    double passing_ratio_ = 1;
    double forward_ratio_ = 1;
};

// Any number of changes, by going up from each. Linear in the depth of the changes.
class WalkedEffect : public Effect {
public:
    explicit WalkedEffect(const LineEffects& line);
    // Forgets what was before. Two changes of one kind at one row: the last holds.
    void walk(const std::vector<LineChange>& changes);

    RowView at(LineRow row) const override;
    double passing(LineRow upper, const WatchedRow& lower) const override;
    double volts(const WatchedRow& row) const override;

private:
    struct Touched {
        RowView view;            // as it is now
        LineEffects::Link link;  // to its feed
        bool has_run = false;
        double run = 0;
        bool has_network = false;
        AttenuatorNetwork network;
    };
    Touched& touch(LineRow row);
    void apply(const LineChange& change);
    void close(LineRow row);
    LineEffects::Link link_of(LineRow row) const;

    const LineEffects& line_;
    std::vector<std::uint32_t> slot_;  // by row: in touched_; no_slot: as recorded
    std::vector<Touched> touched_;
    std::vector<LineRow> rows_;  // touched, in this order
};

}  // namespace tapwright
