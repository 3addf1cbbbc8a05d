#include "core/calc/branches.h"

#include <algorithm>

#include "core/line/attenuator.h"
#include "core/line/tree.h"

namespace tapwright {
namespace {

// An L-pad smaller than this is a short and larger than that is nothing; kept so that no step overflows.
constexpr double smallest_pad = 1e-6;
constexpr double largest_pad = 1e12;

double pad_of(const AttenuatorType& type, Volts line, double behind_w) {
    const double nominal = behind_w > 0 ? line.value() * line.value() / behind_w : 0;
    const double pad = type.pad_ohm ? type.pad_ohm->value() : nominal;
    return pad > 0 ? std::clamp(pad, smallest_pad, largest_pad) : 0;
}

double load_of_l_pad(const AttenuatorType& type, Volts line, double pad_ohm, double behind_w) {
    if (pad_ohm == 0 || !type.steps_db) return behind_w;
    std::vector<double> steps;
    for (const Decibels step : *type.steps_db) steps.push_back(std::min(step.value(), 0.0));
    const double behind_s = behind_w > 0 ? std::min(behind_w / (line.value() * line.value()), largest_value) : 0;
    const double draw = largest_l_pad_draw(line, Ohms(pad_ohm), steps, behind_s).value();
    return std::clamp(draw, behind_w, std::max(behind_w, largest_watts));
}

// What an attenuator with `behind_w` behind its output asks of the line.
double load_of_attenuator(const Job& job, WiredPoint& point, Volts line) {
    if (point.attenuator_type == nowhere) return point.behind_w;
    const AttenuatorType& type = job.all<AttenuatorType>()[point.attenuator_type];
    if (type.build != AttenuatorBuild::l_pad) return point.behind_w;
    point.pad_ohm = pad_of(type, line, point.behind_w);
    return load_of_l_pad(type, line, point.pad_ohm, point.behind_w);
}

}  // namespace

double load_of_l_pad(const AttenuatorType& type, Volts line, double behind_w) {
    return load_of_l_pad(type, line, pad_of(type, line, behind_w), behind_w);
}

void sum_branches(const Job& job, Wiring& wiring) {
    wiring.zone_load_w.assign(wiring.zones.size(), 0);
    wiring.zone_basis.assign(wiring.zones.size(), Basis::as_built);
    for (auto at = wiring.order.rbegin(); at != wiring.order.rend(); ++at) {
        WiredPoint& point = wiring.points[*at];
        // load_w and load_basis hold by now what hangs on this point's incoming terminals.
        if (point.kind == PointKind::attenuator) {
            point.behind_load_w = load_of_attenuator(job, point, wiring.zones[point.zone].line_v);
            point.load_w += point.behind_load_w;
            point.load_basis = weaker(point.load_basis, point.behind_basis);
        } else if (point.draw.counts) {
            point.load_w += point.draw.watts;
            point.load_basis = weaker(point.load_basis, point.draw.basis);
        }
        if (point.feed == nowhere) {
            wiring.zone_load_w[point.zone] += point.load_w;
            wiring.zone_basis[point.zone] = weaker(wiring.zone_basis[point.zone], point.load_basis);
            continue;
        }
        WiredPoint& feed = wiring.points[point.feed];
        const bool behind = feed.kind == PointKind::attenuator && !point.feed_in;
        (behind ? feed.behind_w : feed.load_w) += point.load_w;
        Basis& basis = behind ? feed.behind_basis : feed.load_basis;
        basis = weaker(basis, point.load_basis);
    }
}

}  // namespace tapwright
