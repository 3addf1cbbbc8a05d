// How well a cause explains what was read and heard: the chance of the evidence under it.
//
// Readings are logarithms of ohms, jointly normal: each meter reading strays by itself, each loudspeaker's draw by its
// own share, and all of a line together; so two readings that look into the same loudspeakers stray together, and what
// a baseline tells of the line narrows what is expected of it now. How far a reading moves with each loudspeaker is
// that of the line as the cause has it (LineEffects), to first order.
#pragma once

#include <vector>

#include "core/faults/fault_line.h"

namespace tapwright {

// The effect of a cause on the line under each condition.
class CauseEffects {
public:
    explicit CauseEffects(const FaultLine& line);
    void set(const Cause& cause);
    // Made when it is first asked for.
    const Effect& under(std::uint32_t condition) const {
        return current_[condition] ? *current_[condition] : made(condition);
    }
    const Effect& without(std::uint32_t condition) const { return none_[condition]; }

private:
    const Effect& made(std::uint32_t condition) const;

    const FaultLine& line_;
    std::vector<NoEffect> none_;
    std::vector<LineChange> changes_;
    mutable std::vector<std::optional<SingleEffect>> single_;
    mutable std::vector<std::optional<WalkedEffect>> walked_;
    mutable std::vector<const Effect*> current_;
};

// A reading as a cause predicts it: the middle of its logarithm and how it moves.
struct Predicted {
    double log_ohms = 0;
    double siemens = 0;
    bool is_open = false;
    RowView view;
};

// A cause held against the readings: the factor of their spread and what is left of them, so that another reading can
// be predicted in the light of these.
struct CauseFit {
    double log_likelihood = 0;
    std::vector<std::uint32_t> looks;  // in FaultLine::looks: those of a figure
    std::vector<Predicted> predicted;  // one a look
    std::vector<double> lower;         // of the factor, row by row
    std::vector<double> left;          // whitened
};

struct NormalLog {
    double mean = 0;
    double deviation = 0;
};

class Likelihood {
public:
    explicit Likelihood(const FaultLine& line);

    // `stray`: how far every reading of now may be off besides (a cause nobody thought of), a share; 0: not at all.
    CauseFit of_readings(const CauseEffects& effects, double stray) const;
    // What was heard, read in volts and of insulation.
    double of_the_rest(const Cause& cause, const CauseEffects& effects) const;
    double of_the_rest_unexplained() const;
    // Whether a loudspeaker is silent under a cause. `position`: from the zone's first.
    bool is_silent(const Cause& cause, std::uint32_t position) const;

    // The loudspeakers one fault silences: positions from the zone's first.
    struct Silenced {
        std::uint32_t first = 0;
        std::uint32_t last = 0;
    };
    Silenced silent_stretch(const Fault& fault) const;

    // Another reading, in the light of the first `known` looks of the fit.
    NormalLog predict(const CauseEffects& effects, const Look& look, const CauseFit& fit, std::size_t known) const;
    // A look of the fit itself, in the light of what was before.
    double predicted_ohms(const CauseFit& fit, std::size_t index) const;

private:
    Predicted predict_alone(const CauseEffects& effects, const Look& look) const;
    double covariance(const CauseEffects& effects, const Look& a, const Predicted& of_a, const Look& b,
                      const Predicted& of_b) const;
    double of_heard(const Cause& cause) const;
    double of_volts(const CauseEffects& effects) const;
    double of_insulation(const Cause& cause) const;
    double of_taps(const Cause& cause) const;
    double of_loads(const Cause& cause) const;
    double watts_under(const Cause& cause, std::uint32_t point) const;
    void add_over_range(const CauseEffects& effects, double stray, CauseFit& fit) const;

    const FaultLine& line_;
};

}  // namespace tapwright
