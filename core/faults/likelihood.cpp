#include "core/faults/likelihood.h"

#include <algorithm>
#include <cmath>

namespace tapwright {
namespace {

// Less is an open line to any meter.
constexpr double open_siemens = 1e-9;
// What a reading says against a cause that cannot give it at all.
constexpr double impossible = -60;

double log_of_chance_below(double z) {
    return std::log(std::max(1e-26, 0.5 * std::erfc(-z / std::sqrt(2.0))));
}

std::size_t triangle(std::size_t row) {
    return row * (row + 1) / 2;
}

}  // namespace

CauseEffects::CauseEffects(const FaultLine& line) : line_(line) {
    for (const Condition& condition : line.conditions) {
        none_.emplace_back(*condition.effects);
        walked_.emplace_back(std::in_place, *condition.effects);
    }
    single_.resize(line.conditions.size());
    current_.assign(line.conditions.size(), nullptr);
    for (std::size_t i = 0; i < none_.size(); ++i) current_[i] = &none_[i];
}

void CauseEffects::set(const Cause& cause) {
    changes_.clear();
    for (const Fault& fault : cause.faults) changes_.insert(changes_.end(), fault.changes.begin(), fault.changes.end());
    std::fill(current_.begin(), current_.end(), nullptr);
}

const Effect& CauseEffects::made(std::uint32_t condition) const {
    const LineEffects& effects = *line_.conditions[condition].effects;
    const Effect*& made = current_[condition];
    if (changes_.empty()) {
        made = &none_[condition];
    } else if (changes_.size() == 1 && SingleEffect::can_be_single(effects, changes_.front())) {
        made = &single_[condition].emplace(effects, changes_.front());
    } else {
        walked_[condition]->walk(changes_);
        made = &*walked_[condition];
    }
    return *made;
}

Likelihood::Likelihood(const FaultLine& line) : line_(line) {}

Predicted Likelihood::predict_alone(const CauseEffects& effects, const Look& look) const {
    const Effect& effect = look.is_before ? effects.without(look.condition) : effects.under(look.condition);
    Predicted predicted;
    predicted.view = effect.at(look.row.row);
    predicted.is_open = predicted.view.siemens < open_siemens;
    predicted.siemens = std::max(predicted.view.siemens, open_siemens);
    predicted.log_ohms = -std::log(predicted.siemens);
    return predicted;
}

double Likelihood::covariance(const CauseEffects& effects, const Look& a, const Predicted& of_a, const Look& b,
                              const Predicted& of_b) const {
    const Condition& condition = line_.conditions[a.condition];
    if (condition.is_dc != line_.conditions[b.condition].is_dc || of_a.is_open || of_b.is_open) return 0;
    const double common = condition.is_dc ? line_.spreads.dc_common : line_.spreads.common;
    const double unit = condition.is_dc ? line_.spreads.dc_unit : line_.spreads.unit;
    const double scale = of_a.siemens * of_b.siemens;
    double sum = common * common * of_a.view.linear * of_b.view.linear / scale;
    if (a.condition != b.condition) return sum;
    const LineEffects& line = *condition.effects;
    const bool a_is_upper = line.is_behind(b.row.row, a.row.row);
    if (!a_is_upper && !line.is_behind(a.row.row, b.row.row)) return sum;
    const Look& upper = a_is_upper ? a : b;
    const Look& lower = a_is_upper ? b : a;
    const RowView& seen = (a_is_upper ? of_b : of_a).view;
    const RowView before = line.as_recorded(lower.row.row);
    const double squares =
        a.is_before != b.is_before
            ? (lower.is_before ? (&effects.under(a.condition))->at(lower.row.row).crossed : seen.crossed)
        : a.is_before ? before.squares
                      : seen.squares;
    const Effect& on_the_way = upper.is_before ? effects.without(a.condition) : effects.under(a.condition);
    const double passed = upper.row.row == lower.row.row ? 1 : on_the_way.passing(upper.row.row, lower.row);
    return sum + unit * unit * squares * passed / scale;
}

Likelihood::Gathered Likelihood::gathered(const CauseEffects& effects, double stray) const {
    Gathered gathered;
    CauseFit& fit = gathered.fit;
    for (std::uint32_t i = 0; i < line_.looks.size(); ++i) {
        const Look& look = line_.looks[i];
        if (look.is_over_range) continue;
        const Predicted predicted = predict_alone(effects, look);
        if (predicted.is_open && stray == 0) {
            fit.log_likelihood += impossible;
            continue;
        }
        for (std::size_t j = 0; j < fit.looks.size(); ++j)
            gathered.covariances.push_back(
                covariance(effects, look, predicted, line_.looks[fit.looks[j]], fit.predicted[j]));
        gathered.covariances.push_back(covariance(effects, look, predicted, look, predicted));
        gathered.off.push_back(std::log(look.ohms) - predicted.log_ohms);
        fit.looks.push_back(i);
        fit.predicted.push_back(predicted);
    }
    return gathered;
}

CauseFit Likelihood::fitted(Gathered gathered, double stray, double meter_times) const {
    CauseFit fit = std::move(gathered.fit);
    fit.lower = std::move(gathered.covariances);
    fit.left = std::move(gathered.off);
    for (std::size_t row = 0; row < fit.looks.size(); ++row) {
        const Look& look = line_.looks[fit.looks[row]];
        const double meter = look.meter * meter_times;
        double* mine = &fit.lower[triangle(row)];
        double own = mine[row] + meter * meter;
        if (!look.is_before) own += stray * stray;
        for (std::size_t j = 0; j < row; ++j) {
            const double* other = &fit.lower[triangle(j)];
            double sum = mine[j];
            for (std::size_t k = 0; k < j; ++k) sum -= mine[k] * other[k];
            mine[j] = sum / other[j];
            own -= mine[j] * mine[j];
            fit.left[row] -= mine[j] * fit.left[j];
        }
        mine[row] = std::sqrt(std::max(own, meter * meter * 1e-3));
        fit.left[row] /= mine[row];
        fit.log_likelihood -= 0.5 * fit.left[row] * fit.left[row] + std::log(mine[row]);
    }
    return fit;
}

CauseFit Likelihood::of_readings(const CauseEffects& effects, double stray) const {
    CauseFit fit = fitted(gathered(effects, stray), stray, line_.meter_times);
    fit.log_likelihood += of_over_range(effects, stray, fit);
    return fit;
}

double Likelihood::log_of_readings(const CauseEffects& effects, double stray, ByTimes* by_times) const {
    const Gathered all = gathered(effects, stray);
    ByTimes logs;
    for (std::size_t i = 0; i < logs.size(); ++i) {
        const CauseFit fit = fitted(all, stray, line_.spreads.meter_times[i]);
        logs[i] = std::log(line_.spreads.meter_chance[i]) + fit.log_likelihood + of_over_range(effects, stray, fit);
    }
    if (by_times) *by_times = logs;
    const double top = *std::max_element(logs.begin(), logs.end());
    double sum = 0;
    for (const double log : logs) sum += std::exp(log - top);
    return top + std::log(sum);
}

double Likelihood::of_over_range(const CauseEffects& effects, double stray, const CauseFit& fit) const {
    double sum = 0;
    for (const Look& look : line_.looks) {
        if (!look.is_over_range) continue;
        if (stray > 0) {
            sum += std::log(0.1);
            continue;
        }
        const NormalLog predicted = predict(effects, look, fit, fit.looks.size());
        sum += log_of_chance_below((predicted.mean - std::log(look.range)) / std::max(predicted.deviation, 1e-3));
    }
    return sum;
}

NormalLog Likelihood::predict(const CauseEffects& effects, const Look& look, const CauseFit& fit,
                              std::size_t known) const {
    const Predicted predicted = predict_alone(effects, look);
    const double meter = look.meter * line_.meter_times;
    NormalLog normal{predicted.log_ohms, meter * meter};
    if (!predicted.is_open) {
        normal.deviation += covariance(effects, look, predicted, look, predicted);
        std::vector<double> mine(known);
        for (std::size_t j = 0; j < known; ++j) {
            const double* other = &fit.lower[triangle(j)];
            double sum = covariance(effects, look, predicted, line_.looks[fit.looks[j]], fit.predicted[j]);
            for (std::size_t k = 0; k < j; ++k) sum -= mine[k] * other[k];
            mine[j] = sum / other[j];
            normal.deviation -= mine[j] * mine[j];
            normal.mean += mine[j] * fit.left[j];
        }
    }
    normal.deviation = std::sqrt(std::max(normal.deviation, meter * meter));
    return normal;
}

double Likelihood::predicted_ohms(const CauseFit& fit, std::size_t index) const {
    double log_ohms = fit.predicted[index].log_ohms;
    for (std::size_t j = 0; j < index && line_.looks[fit.looks[j]].is_before; ++j)
        log_ohms += fit.lower[triangle(index) + j] * fit.left[j];
    return std::exp(log_ohms);
}

// ---- what was heard, volts, insulation ----

// The loudspeakers one fault silences: positions from the zone's first. A short takes the whole line with it.
Likelihood::Silenced Likelihood::silent_stretch(const Fault& fault) const {
    const WiredZone& zone = line_.wiring.zones[line_.zone];
    if (fault.points.empty()) return {};
    if (fault.kind == FaultKind::shorted) return {0, zone.last - zone.first};
    const std::uint32_t position = line_.wiring.position[fault.points.front()];
    if (position == nowhere) return {};
    const std::uint32_t at = position - zone.first;
    if (fault.kind == FaultKind::dead) return {at, at + 1};
    if (fault.kind == FaultKind::broken || (fault.kind == FaultKind::position && fault.is_off))
        return {at, line_.wiring.branch_end[position] - zone.first};
    return {};
}

bool Likelihood::is_silent(const Cause& cause, std::uint32_t position) const {
    for (const Fault& fault : cause.faults) {
        const Silenced silent = silent_stretch(fault);
        if (position >= silent.first && position < silent.last) return true;
    }
    return false;
}

double Likelihood::of_heard(const Cause& cause) const {
    if (line_.playing_before.empty()) return 0;
    std::uint32_t playing_silenced = 0;
    std::uint32_t silent_silenced = 0;
    std::uint32_t end = 0;
    std::vector<Silenced> stretches;
    for (const Fault& fault : cause.faults) stretches.push_back(silent_stretch(fault));
    if (stretches.size() > 1 && stretches[1].first < stretches[0].first) std::swap(stretches[0], stretches[1]);
    for (const Silenced& stretch : stretches) {
        const std::uint32_t first = std::max(stretch.first, end);
        if (stretch.last <= first) continue;
        playing_silenced += line_.playing_before[stretch.last] - line_.playing_before[first];
        silent_silenced += line_.silent_before[stretch.last] - line_.silent_before[first];
        end = stretch.last;
    }
    const double playing = line_.playing_before.back() - playing_silenced;
    const double silent = line_.silent_before.back() - silent_silenced;
    const FaultSpreads& spreads = line_.spreads;
    return playing_silenced * std::log(spreads.misheard_playing) +
           silent_silenced * std::log(1 - spreads.misheard_playing) + silent * std::log(spreads.misheard_silent) +
           playing * std::log(1 - spreads.misheard_silent);
}

double Likelihood::of_volts(const CauseEffects& effects) const {
    double sum = 0;
    for (const VoltsLook& look : line_.volts) {
        const double share = std::abs(effects.under(0).volts(look.row));
        if (!look.source) {
            // Without the volts at the zone nothing tells but whether any arrive.
            const bool arrive = share > 1e-6;
            sum += std::log(arrive == (look.volts > 0.1) ? 0.99 : 0.01);
            continue;
        }
        const double read = std::max(look.volts / *look.source, 1e-4);
        const double deviation = std::hypot(look.meter * std::sqrt(2.0), 0.005);
        const double off = (std::log(read) - std::log(std::max(share, 1e-4))) / deviation;
        sum += std::max(-0.5 * off * off, impossible);
    }
    return sum;
}

double Likelihood::of_insulation(const Cause& cause) const {
    const auto of = [&](FaultKind kind, const std::optional<bool>& is_high) {
        if (!is_high) return 0.0;
        const bool has = std::any_of(cause.faults.begin(), cause.faults.end(),
                                     [&](const Fault& fault) { return fault.kind == kind; });
        const double wrong = line_.spreads.wrong_insulation;
        return std::log(has != *is_high ? 1 - wrong : wrong);
    };
    return of(FaultKind::earth, line_.insulated) + of(FaultKind::crossed, line_.parted);
}

double Likelihood::of_taps(const Cause& cause) const {
    double sum = 0;
    for (const auto& [point, seen] : line_.taps) {
        std::optional<Watts> expected = line_.recorded_tap(point);
        for (const Fault& fault : cause.faults) {
            if (fault.points.empty() || fault.points.front() != point) continue;
            if (fault.kind == FaultKind::tap) expected = Watts(*fault.value);
            if (fault.kind == FaultKind::bypass) expected = Watts(0);
        }
        if (!expected) continue;
        const bool is_so = std::abs(seen.value() - expected->value()) <= 0.01 * expected->value();
        sum += std::log(is_so ? 1 - line_.spreads.misread_tap : line_.spreads.misread_tap);
    }
    return sum;
}

// What a loudspeaker draws of the line voltage; nothing where none arrives.
double Likelihood::watts_under(const Cause& cause, std::uint32_t point) const {
    const LineRow row = line_.row_of(point);
    double siemens = line_.conditions.front().effects->tree().loads_s()[row];
    for (const Fault& fault : cause.faults)
        for (const LineChange& change : fault.changes) {
            if (change.row != row) continue;
            if (change.what == LineChange::What::load_is) siemens = change.value;
            if (change.what == LineChange::What::load_times) siemens *= change.value;
        }
    const bool is_cut_off = std::any_of(cause.faults.begin(), cause.faults.end(), [&](const Fault& fault) {
        const Silenced silent = silent_stretch(fault);
        const std::uint32_t position = line_.wiring.position[point] - line_.wiring.zones[line_.zone].first;
        return fault.kind != FaultKind::shorted && position >= silent.first && position < silent.last;
    });
    return is_cut_off ? 0 : siemens * line_.line_v.value() * line_.line_v.value();
}

double Likelihood::of_loads(const Cause& cause) const {
    double sum = 0;
    for (const auto& [point, seen] : line_.loads) {
        const double watts = watts_under(cause, point);
        const double own = std::hypot(line_.spreads.unit, line_.spreads.common) * watts;
        const double deviation = std::max(std::hypot(seen.error.value() * line_.spreads.meter_of_accuracy, own), 0.01);
        const double off = (seen.watts.value() - watts) / deviation;
        sum += std::max(-0.5 * off * off - std::log(deviation), impossible);
    }
    return sum;
}

double Likelihood::of_the_rest(const Cause& cause, const CauseEffects& effects) const {
    return of_heard(cause) + of_volts(effects) + of_insulation(cause) + of_taps(cause) + of_loads(cause);
}

double Likelihood::of_the_rest_unexplained() const {
    const double playing = line_.playing_before.empty() ? 0 : line_.playing_before.back();
    const double silent = line_.silent_before.empty() ? 0 : line_.silent_before.back();
    double sum = playing * std::log(0.9) + silent * std::log(0.5);
    sum += static_cast<double>(line_.volts.size()) * std::log(0.1);
    for (const auto& [point, seen] : line_.taps) {
        const std::optional<Watts> recorded = line_.recorded_tap(point);
        const bool is_so = recorded && std::abs(seen.value() - recorded->value()) <= 0.01 * recorded->value();
        sum += std::log(is_so ? 0.9 : 0.05);
    }
    // Any watts up to twice the loudspeaker's own, or what the meter may be off, are as likely.
    for (const auto& [point, seen] : line_.loads)
        sum -= std::log(
            std::max({2 * watts_under(line_.causes.front(), point), 2 * seen.watts.value(), seen.error.value(), 1.0}));
    for (const auto& is_high : {line_.insulated, line_.parted})
        if (is_high) sum += std::log(*is_high ? 1 - line_.spreads.wrong_insulation : 0.1);
    return sum;
}

}  // namespace tapwright
