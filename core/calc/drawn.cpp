#include "core/calc/drawn.h"

#include <algorithm>
#include <cmath>

#include "core/line/tree.h"

namespace tapwright {
namespace {

double loss_factor(const SpeakerType* type) {
    if (!type || type->tap_means != TapMeans::delivered || !type->xfmr_loss_db) return 1;
    return power_ratio(*type->xfmr_loss_db);
}

double siemens_of_tap(Watts marked, const SpeakerType* type, Volts line) {
    const double volts = type && type->taps_v ? type->taps_v->value() : line.value();
    return std::min(marked.value() * loss_factor(type) / (volts * volts), largest_value);
}

Draw low_impedance_draw(const SpeakerType* type, Volts line) {
    Draw draw{.counts = true, .on_low_z = true};
    if (!type || !type->low_z_ohm) {
        draw.known = false;
        draw.basis = Basis::at_least;
        return draw;
    }
    draw.siemens = std::min(1 / type->low_z_ohm->value(), largest_value);
    draw.watts = std::min(watts_of(line, *type->low_z_ohm).value(), largest_watts);
    return draw;
}

}  // namespace

Watts drawn_by_tap(Watts marked, const SpeakerType* type, Volts line) {
    double watts = marked.value();
    if (type && type->taps_v) {
        const double ratio = line / *type->taps_v;
        watts *= ratio * ratio;
    }
    return Watts(std::min(watts * loss_factor(type), largest_watts));
}

Draw draw_of(const Point& speaker, const SpeakerType* type, Volts line, bool low_impedance_zone) {
    if (speaker.wired == Wired::off) return {};
    const bool no_tap = !speaker.tap_w && !speaker.planned_tap_w;
    if (speaker.wired == Wired::low_z || (low_impedance_zone && no_tap && !speaker.wired))
        return low_impedance_draw(type, line);
    Draw draw{.counts = true};
    if (no_tap) {
        draw.known = false;
        draw.basis = Basis::at_least;
        return draw;
    }
    const Watts marked = speaker.tap_w ? *speaker.tap_w : *speaker.planned_tap_w;
    draw.basis = speaker.tap_w ? Basis::as_built : Basis::planned;
    draw.watts = drawn_by_tap(marked, type, line).value();
    draw.siemens = siemens_of_tap(marked, type, line);
    return draw;
}

bool is_same_line(Volts marked, Volts line) {
    return std::abs(marked / line - 1) <= 0.025;
}

}  // namespace tapwright
