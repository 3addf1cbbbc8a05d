#include "core/faults/fault_line.h"

#include <algorithm>
#include <cmath>

#include "core/calc/line_tree.h"

namespace tapwright {
namespace {

bool is_alike(const LineTree<double>::Special& a, const LineTree<double>::Special& b) {
    return a.row == b.row && a.network.voltage_gain == b.network.voltage_gain &&
           a.network.admittance_gain == b.network.admittance_gain && a.network.series_ohm == b.network.series_ohm &&
           a.network.shunt_s == b.network.shunt_s;
}

// Where no tap is recorded: the middle of those its type offers.
double likely_siemens(const Job& job, const WiredPoint& point, Volts line) {
    if (point.speaker_type == nowhere) return 0;
    const SpeakerType& type = job.all<SpeakerType>()[point.speaker_type];
    if (!type.taps_w || type.taps_w->empty()) return 0;
    double logs = 0;
    for (const Watts tap : *type.taps_w) logs += std::log(std::max(drawn_by_tap(tap, &type, line).value(), 1e-3));
    return std::exp(logs / static_cast<double>(type.taps_w->size())) / (line.value() * line.value());
}

struct Grown {
    LineTree<double> tree;
    std::vector<double> unsure;
};

Grown grown(const Job& job, FaultLine& line, const KnobMap& knobs, bool override_active) {
    const WiredZone& zone = line.wiring.zones[line.zone];
    SolveOptions options;
    options.given = &knobs;
    options.override_active = override_active;
    Grown grown;
    line.rows.assign(zone.last - zone.first, 0);
    TreeBuilder<double>(job, line.wiring, options, zone.first)
        .add({line.zone, zone.first, zone.last}, nowhere, grown.tree, line.rows);
    grown.unsure.assign(grown.tree.rows(), 1);
    line.unknown_taps = 0;
    for (std::uint32_t i = zone.first; i < zone.last; ++i) {
        const WiredPoint& point = line.wiring.points[line.wiring.order[i]];
        if (!point.connected || point.draw.known) continue;
        ++line.unknown_taps;
        const LineRow row = line.rows[i - zone.first];
        grown.tree.set_load(row, likely_siemens(job, point, zone.line_v));
        grown.unsure[row] = line.spreads.unknown_tap / line.spreads.unit;
    }
    return grown;
}

void see_as_dc(const FaultLine& line, LineTree<double>& tree) {
    for (LineRow row = 0; row < tree.rows(); ++row)
        if (tree.loads_s()[row] > 0) tree.set_load(row, tree.loads_s()[row] / line.spreads.dc_share);
}

Refusal about(const Zone& zone, Message problem) {
    return {placed(Message(entered(zone.name.value_or(zone.id.text()))), std::move(problem))};
}

}  // namespace

std::uint32_t condition_for(const Job& job, FaultLine& line, const KnobMap& knobs, bool override_active, bool is_dc) {
    KnobMap standing = knobs;
    for (const auto& [id, knob] : line.assumed) {
        const bool is_noted =
            std::any_of(knobs.begin(), knobs.end(), [&, &of = id](const auto& one) { return one.first == of; });
        if (!is_noted) standing.emplace_back(id, knob);
    }
    Grown fresh = grown(job, line, standing, override_active);
    const std::vector<LineTree<double>::Special> networks(fresh.tree.specials().begin(), fresh.tree.specials().end());
    for (std::uint32_t i = 0; i < line.conditions.size(); ++i) {
        const auto& known = line.conditions[i].networks;
        if (line.conditions[i].is_dc == is_dc && std::equal(known.begin(), known.end(), networks.begin(), is_alike))
            return i;
    }
    if (is_dc) see_as_dc(line, fresh.tree);
    Condition condition;
    condition.is_dc = is_dc;
    condition.knobs = knobs;
    condition.networks = networks;
    condition.effects = std::make_unique<LineEffects>(std::move(fresh.tree), std::move(fresh.unsure));
    line.conditions.push_back(std::move(condition));
    return static_cast<std::uint32_t>(line.conditions.size() - 1);
}

void add_turned(const Job& job, FaultLine& line) {
    constexpr std::size_t most = 20;
    const WiredZone& zone = line.wiring.zones[line.zone];
    for (std::uint32_t i = zone.first; i < zone.last && line.turned.size() < most; ++i) {
        const std::uint32_t place = line.wiring.order[i];
        const WiredPoint& point = line.wiring.points[place];
        if (point.kind != PointKind::attenuator || point.attenuator_type == nowhere) continue;
        const AttenuatorType& type = job.all<AttenuatorType>()[point.attenuator_type];
        Knob knob{Decibels(0), type.has_off.value_or(false)};
        if (!knob.off && type.steps_db)
            for (const Decibels step : *type.steps_db) knob.step = std::min(knob.step, step);
        const std::uint32_t condition = condition_for(job, line, {{job.all<Point>()[place].id, knob}}, false, false);
        if (condition != 0) line.turned.emplace_back(place, condition);
    }
}

namespace {

Result<FaultLine> line_with(const Job& job, const Judged& judged, const FaultQuestion& question, KnobMap assumed) {
    const auto place = job.place<Zone>(question.zone);
    if (!place)
        return Refusal{
            Message("There is no zone {zone}. Name a zone of this job.", {{"zone", entered(question.zone.text())}})};
    const Zone& zone = job.all<Zone>()[*place];
    FaultLine line;
    line.assumed = std::move(assumed);
    line.wiring = wire(job);
    line.zone = *place;
    line.zone_id = question.zone;
    TAPWRIGHT_TAKE(weights, weights_for(job, question.weights));
    line.weights = weights;
    line.spreads = question.spreads;
    const WiredZone& wired = line.wiring.zones[*place];
    line.line_v = wired.line_v;
    if (judged.zones[*place].emergency || wired.emergency)
        return about(zone, Message("This is a fire or emergency line, so no fault is looked for. Leave it to qualified "
                                   "people."));
    if (wired.first == wired.last)
        return about(zone, Message("Nothing is recorded on this line, so nothing can be wrong with the record. Trace "
                                   "its points and record them first."));
    std::uint32_t connected = 0;
    for (std::uint32_t i = wired.first; i < wired.last; ++i)
        connected += line.wiring.points[line.wiring.order[i]].connected;
    if (connected == 0)
        return about(zone, Message("No loudspeaker is connected here yet. Record which are fitted, then read the "
                                   "line."));
    condition_for(job, line, {}, false, false);
    if (line.unknown_taps == connected)
        return about(zone, Message("No tap is recorded here, so no reading can be held against the record. Look at the "
                                   "taps and record them."));
    for (std::uint32_t i = wired.first; i < wired.last; ++i)
        line.tap_w.push_back(job.all<Point>()[line.wiring.order[i]].tap_w);
    add_evidence(job, judged, question, line);
    const bool is_heard = std::any_of(line.heard.begin(), line.heard.end(), [](const auto& one) { return one; });
    if (line.looks.empty() && line.volts.empty() && !is_heard && !line.insulated && !line.parted)
        return about(zone, Message("Nothing was read or heard here yet. Read the line's impedance with the amplifier "
                                   "disconnected, or note which loudspeakers play."));
    add_causes(job, line);
    add_turned(job, line);
    if (!line.wiring.has_attenuators) condition_for(job, line, {}, false, true);
    return line;
}

}  // namespace

Result<FaultLine> fault_line(const Job& job, const Judged& judged, const FaultQuestion& question) {
    Result<FaultLine> line = line_with(job, judged, question, {});
    if (!line) return line;
    const std::vector<std::uint32_t> unnoted = unnoted_attenuators(job, *line);
    if (unnoted.empty()) return line;
    // One attenuator after the other; on long lines fewer of them.
    constexpr std::size_t most_causes = 10000;
    std::size_t left = most_causes / std::max<std::size_t>(line->causes.size(), 1);
    // Most stand full.
    double best = log_evidence(*line) + std::log(2.0);
    for (const std::uint32_t place : unnoted) {
        const AttenuatorType& type = job.all<AttenuatorType>()[line->wiring.points[place].attenuator_type];
        KnobMap others = line->assumed;
        for (const Decibels step : *type.steps_db) {
            if (left == 0) return line;
            if (step.value() == 0) continue;
            --left;
            KnobMap assumed = others;
            assumed.emplace_back(job.all<Point>()[place].id, Knob{step, false});
            Result<FaultLine> other = line_with(job, judged, question, std::move(assumed));
            if (!other) continue;
            const double evidence = log_evidence(*other);
            if (evidence <= best) continue;
            best = evidence;
            line = std::move(other);
        }
    }
    return line;
}

}  // namespace tapwright
