// Where is the fault? Bayes' rule over all that could be wrong with one line, held against all that was read and heard
// of it. Single faults first; where none fits, pairs of the likeliest. "The record is right" and "something else" are
// answers too. Nothing is changed by it: a cause that says the record is wrong is a proposal.
//
// After J. de Kleer and B. C. Williams, "Diagnosing multiple faults", Artificial Intelligence 32, 1987: predictions
// kept apart from diagnosis, chances from the evidence, the next measurement from what is expected of it. Model, limits
// and examples: docs/calculations.md, "Faults".
#pragma once

#include <map>
#include <utility>

#include "core/faults/likelihood.h"

namespace tapwright {

struct Explained {
    std::uint32_t look = 0;  // in FaultLine::looks
    Ohms predicted{0};
};

class Diagnosis {
public:
    // Errors: fault_line()'s.
    static Result<Diagnosis> of(const Job& job, const Judged& judged, const FaultQuestion& question);

    // The same in steps, so that a window can go on drawing: nothing else may be asked before step() returned false.
    static Result<Diagnosis> begin(const Job& job, const Judged& judged, const FaultQuestion& question);
    // Weighs so many more causes. Returns: whether there are more to weigh.
    bool step(std::size_t most = 1000);

    const FaultLine& line() const { return *line_; }
    // All of them, the likeliest first; none of chance 0. Their chances and unexplained() are 1 together.
    const std::vector<Cause>& causes() const { return causes_; }
    double unexplained() const { return unexplained_; }
    // Chance by place (Cause::place), and the likeliest place, that no fault is there (place 0) included.
    std::vector<double> places() const;
    std::uint32_t likeliest_place() const;
    // One place has sure_chance, or something else has.
    bool is_sure() const;
    bool tried_pairs() const { return tried_pairs_; }

    // What a cause predicts of each look that is of now, in the light of what was before.
    std::vector<Explained> explains(const Cause& cause) const;

private:
    explicit Diagnosis(FaultLine line);
    void weigh_singles(std::size_t most);
    void weigh_unexplained();
    bool wants_pairs() const;
    void choose_pairs();
    void weigh_pairs(std::size_t most);
    double log_of(const Likelihood& likelihood, const Cause& cause, const CauseEffects& effects);
    void settle();
    void settle_meter();
    void count_pairs_with_the_likeliest();

    // What pairs are made of, and how far they are weighed.
    struct Pairing {
        std::vector<Cause> pairs;
        double top = 0;  // the best logarithm before
        std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> places;
        std::uint32_t next_place = 0;
        std::size_t done = 0;  // of `pairs`
    };

    std::unique_ptr<FaultLine> line_;
    double sum_ = 0;  // of the weights of the causes weighed so far
    Pairing pairing_;
    bool is_settled_ = false;
    std::vector<Cause> causes_;
    std::vector<double> logs_;                   // one a cause
    std::vector<Likelihood::ByTimes> by_times_;  // the same with each meter; of pairs as well
    double unexplained_log_ = 0;
    double unexplained_ = 0;
    bool tried_pairs_ = false;
};

}  // namespace tapwright
