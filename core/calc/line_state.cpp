#include "core/calc/line_state.h"

#include "core/calc/line_tree.h"

namespace tapwright {
namespace {

constexpr std::uint32_t all_points = nowhere;

template <class Scalar>
struct Solved {
    std::vector<LineRow> rows;  // by position in Wiring::order
    LineSolution<Scalar> solution;
};

template <class Scalar>
Solved<Scalar> solve_all(const Job& job, const Wiring& wiring, const SolveOptions& options) {
    Solved<Scalar> solved;
    solved.rows.resize(wiring.order.size());
    LineTree<Scalar> tree;
    tree.reserve(wiring.order.size() + wiring.zones.size());
    TreeBuilder<Scalar> builder(job, wiring, options, 0);
    for (std::uint32_t zone = 0; zone < wiring.zones.size(); ++zone)
        builder.add({zone, wiring.zones[zone].first, wiring.zones[zone].last}, all_points, tree, solved.rows);
    solve(tree, solved.solution);
    return solved;
}

ZoneLine zone_line(const LineTotals& line) {
    return {Volts(line.volts),       Amps(line.amps),     Watts(line.watts),       Ohms(line.ohms),
            Watts(line.delivered_w), Watts(line.cable_w), Watts(line.attenuator_w)};
}

std::optional<Decibels> level_of(const Draw& draw, double watts) {
    if (!draw.counts || !draw.known || !(watts > 0) || !(draw.watts > 0)) return std::nullopt;
    return decibels_of_power(watts / draw.watts);
}

template <class Scalar>
LineState state_of(const Job& job, const Wiring& wiring, const SolveOptions& options) {
    const Solved<Scalar> asked = solve_all<Scalar>(job, wiring, options);
    // Without attenuators a line has but one solution.
    std::optional<Solved<Scalar>> other;
    if (wiring.has_attenuators) {
        SolveOptions bypassed = options;
        bypassed.knobs = Knobs::bypassed;
        other = solve_all<Scalar>(job, wiring, bypassed);
    }
    const Solved<Scalar>& plain = other ? *other : asked;

    LineState state;
    state.points.resize(wiring.points.size());
    for (std::size_t zone = 0; zone < wiring.zones.size(); ++zone) {
        const LineTotals& line = asked.solution.lines[zone];
        state.zones.push_back(zone_line(line));
        state.siemens.emplace_back(asked.solution.admittance[line.source]);
        state.siemens_full.emplace_back(plain.solution.admittance[plain.solution.lines[zone].source]);
    }
    for (std::size_t i = 0; i < wiring.order.size(); ++i) {
        const std::uint32_t place = wiring.order[i];
        const Draw& draw = wiring.points[place].draw;
        const LineRow row = asked.rows[i];
        PointSolution& point = state.points[place];
        point.volts = asked.solution.volts_at(row);
        point.watts = Watts(asked.solution.load_w[row]);
        point.ohms = asked.solution.ohms_at(row);
        point.level = level_of(draw, point.watts.value());
        point.cable = other ? level_of(draw, plain.solution.load_w[plain.rows[i]]) : point.level;
    }
    return state;
}

template <class Scalar>
std::complex<double> siemens_as(const Job& job, const Wiring& wiring, const Stretch& stretch, bool at_zone,
                                const SolveOptions& options, std::uint32_t known) {
    LineTree<Scalar> tree;
    std::vector<LineRow> rows(stretch.last - stretch.first);
    TreeBuilder<Scalar>(job, wiring, options, stretch.first).add(stretch, known, tree, rows);
    const std::vector<Scalar> admittance = admittances(tree);
    return at_zone || stretch.first == stretch.last ? admittance.front() : admittance[rows.front()];
}

}  // namespace

LineState solve_lines(const Job& job, const Wiring& wiring, const SolveOptions& options) {
    if (options.hz && wiring.has_models) return state_of<std::complex<double>>(job, wiring, options);
    return state_of<double>(job, wiring, options);
}

std::complex<double> siemens_of(const Job& job, const Wiring& wiring, const Stretch& stretch, bool at_zone,
                                const SolveOptions& options, std::uint32_t known) {
    if (options.hz && wiring.has_models)
        return siemens_as<std::complex<double>>(job, wiring, stretch, at_zone, options, known);
    return siemens_as<double>(job, wiring, stretch, at_zone, options, known);
}

}  // namespace tapwright
