// All that could be wrong with one line, one thing at a time, with its weight.
#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "core/calc/line_tree.h"
#include "core/faults/fault_line.h"

namespace tapwright {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// A kind's weight among the values that are tried for it.
template <class Values>
double shared(double weight, const Values& values) {
    return weight / static_cast<double>(values.size());
}

class CauseList {
public:
    CauseList(const Job& job, FaultLine& line) : job_(job), line_(line), zone_(line.wiring.zones[line.zone]) {
        for (const Snag& snag : job.all<Snag>())
            if (snag.about && snag.state.value_or(SnagState::open) == SnagState::open)
                snags_.insert(snag.about->text());
    }

    void fill() {
        line_.causes.clear();
        line_.causes.push_back({});
        line_.places = 1 + (zone_.last - zone_.first);
        for (std::uint32_t i = zone_.first; i < zone_.last; ++i) add_point(line_.wiring.order[i]);
        add_untraced();
        add_line(FaultKind::earth, line_.insulated.has_value(), line_.weights.earth);
        add_line(FaultKind::crossed, line_.parted.has_value(), line_.weights.crossed);
        double sum = 0;
        for (const Cause& cause : line_.causes) sum += cause.weight;
        line_.causes.front().weight = sum * line_.weights.none;
    }

private:
    using What = LineChange::What;

    void add(FaultKind kind, std::uint32_t point, std::optional<double> value, Unit unit, double weight,
             LineChange change) {
        change.row = row_;
        Cause cause;
        cause.faults.push_back({kind, {point}, value, unit, false, nowhere, {change}});
        cause.weight = weight * factor_;
        cause.place = place_;
        line_.causes.push_back(std::move(cause));
    }

    void add_point(std::uint32_t place) {
        const WiredPoint& point = line_.wiring.points[place];
        const FaultWeights& weights = line_.weights;
        row_ = line_.row_of(place);
        place_ = 1 + line_.wiring.position[place] - zone_.first;
        factor_ = snags_.contains(job_.all<Point>()[place].id.text()) ? weights.snag : 1;
        if (point.kind == PointKind::speaker) add_speaker(place, point);
        if (point.kind == PointKind::attenuator) add_positions(place, point);
        // A run to where nothing draws, such as an end-of-line part, shows nothing whatever it is.
        const bool draws = line_.conditions.front().effects->as_recorded(row_).siemens > 0;
        if (draws)
            add(FaultKind::broken, place, std::nullopt, Unit::none, weights.broken, {What::run_ohm, 0, infinite});
        add(FaultKind::shorted, place, weights.short_ohm, Unit::ohm, weights.shorted,
            {point.kind == PointKind::speaker ? What::load_is : What::across, 0, 1 / weights.short_ohm});
        for (const double ohms : weights.joint_ohm)
            if (draws)
                add(FaultKind::joint, place, ohms, Unit::ohm, shared(weights.joint, weights.joint_ohm),
                    {What::run_ohm, 0, point.run_ohm + ohms});
        for (const double ohms : weights.leak_ohm)
            add(FaultKind::leak, place, ohms, Unit::ohm, shared(weights.leak, weights.leak_ohm),
                {What::across, 0, 1 / ohms});
        for (const double watts : weights.extra_w)
            add(FaultKind::extra, place, watts, Unit::watt, shared(weights.extra, weights.extra_w),
                {What::across, 0, siemens(watts)});
        if (draws) add_feeds(place, point);
    }

    double siemens(double watts) const { return watts / (zone_.line_v.value() * zone_.line_v.value()); }

    void add_speaker(std::uint32_t place, const WiredPoint& point) {
        const FaultWeights& weights = line_.weights;
        const SpeakerType* type =
            point.speaker_type == nowhere ? nullptr : &job_.all<SpeakerType>()[point.speaker_type];
        if (!point.connected) {
            if (point.draw.watts > 0)
                add(FaultKind::missing, place, point.draw.watts, Unit::watt, weights.missing,
                    {What::across, 0, siemens(point.draw.watts)});
            return;
        }
        add(FaultKind::dead, place, std::nullopt, Unit::none, weights.dead, {What::load_is, 0, 0});
        const double bypass = type && type->low_z_ohm ? type->low_z_ohm->value() : weights.bypass_ohm;
        if (!point.draw.on_low_z)
            add(FaultKind::bypass, place, bypass, Unit::ohm, weights.bypass, {What::load_is, 0, 1 / bypass});
        if (!type || !type->taps_w || point.draw.on_low_z) return;
        std::vector<std::pair<double, double>> others;  // marked, drawn
        for (const Watts tap : *type->taps_w) {
            const double drawn = drawn_by_tap(tap, type, zone_.line_v).value();
            if (drawn > 0 && !(point.draw.known && std::abs(drawn / point.draw.watts - 1) < 0.01))
                others.emplace_back(tap.value(), drawn);
        }
        for (const auto& [tap, drawn] : others)
            add(FaultKind::tap, place, tap, Unit::watt, weights.tap / static_cast<double>(others.size()),
                point.draw.known ? LineChange{What::load_times, 0, drawn / point.draw.watts}
                                 : LineChange{What::load_is, 0, siemens(drawn)});
    }

    void add_positions(std::uint32_t place, const WiredPoint& point) {
        if (point.attenuator_type == nowhere) return;
        const AttenuatorType& type = job_.all<AttenuatorType>()[point.attenuator_type];
        std::vector<Knob> knobs;
        if (type.steps_db)
            for (const Decibels step : *type.steps_db) knobs.push_back({step, false});
        if (type.has_off.value_or(false)) knobs.push_back({Decibels(0), true});
        const Id& id = job_.all<Point>()[place].id;
        const LineRow output = row_ + 1;
        for (const Knob& knob : knobs) {
            const KnobMap given{{id, knob}};
            SolveOptions options;
            options.given = &given;
            const AttenuatorNetwork network = network_of(job_, point, place, options, GivenKnobs(job_, &given));
            if (is_as_left(output, network)) continue;
            Cause cause;
            LineChange change{What::network, output, 0, network};
            cause.faults.push_back(
                {FaultKind::position, {place}, knob.step.value(), Unit::decibel, knob.off, nowhere, {change}});
            cause.weight = line_.weights.position / static_cast<double>(knobs.size()) * factor_;
            cause.place = place_;
            line_.causes.push_back(std::move(cause));
        }
    }

    bool is_as_left(LineRow output, const AttenuatorNetwork& network) const {
        for (const auto& special : line_.conditions.front().networks)
            if (special.row == output)
                return special.network.voltage_gain == network.voltage_gain &&
                       special.network.series_ohm == network.series_ohm;
        return true;
    }

    LineRow output_row(std::uint32_t point) const {
        if (point == nowhere) return 0;
        const LineRow row = line_.row_of(point);
        return line_.wiring.points[point].kind == PointKind::attenuator ? row + 1 : row;
    }

    // The likeliest places a run could come from instead: one point earlier, the zone itself, the point recorded just
    // before it.
    void add_feeds(std::uint32_t place, const WiredPoint& point) {
        std::vector<std::uint32_t> feeds;
        const auto propose = [&](std::uint32_t feed) {
            const bool is_behind = feed != nowhere && is_in_branch(feed, place);
            if (feed == point.feed || is_behind || std::find(feeds.begin(), feeds.end(), feed) != feeds.end()) return;
            feeds.push_back(feed);
        };
        if (point.feed != nowhere) {
            propose(line_.wiring.points[point.feed].feed);
            propose(nowhere);
        }
        if (place > 0 && line_.wiring.points[place - 1].zone == line_.zone) propose(place - 1);
        const double siemens = line_.conditions.front().effects->as_recorded(row_).siemens;
        for (const std::uint32_t feed : feeds) {
            Cause cause;
            const LineChange opened{What::run_ohm, row_, infinite};
            const LineChange fed{What::across, output_row(feed), siemens / (1 + point.run_ohm * siemens)};
            cause.faults.push_back(
                {FaultKind::wrong_feed, {place}, std::nullopt, Unit::none, false, feed, {opened, fed}});
            cause.weight = line_.weights.wrong_feed / static_cast<double>(feeds.size()) * factor_;
            cause.place = place_;
            line_.causes.push_back(std::move(cause));
        }
    }

    bool is_in_branch(std::uint32_t point, std::uint32_t of) const {
        const Wiring& wiring = line_.wiring;
        const std::uint32_t at = wiring.position[of];
        return wiring.position[point] >= at && wiring.position[point] < wiring.branch_end[at];
    }

    // Loudspeakers of which nobody knows the feed, in rooms of this zone or in rooms where no line is known.
    std::vector<std::uint32_t> untraced_here() const {
        std::set<std::string> rooms_here;
        std::set<std::string> rooms_known;
        const auto points = job_.all<Point>();
        for (std::uint32_t i = 0; i < points.size(); ++i) {
            const WiredPoint& wired = line_.wiring.points[i];
            if (wired.zone == nowhere || wired.kind != PointKind::speaker || !points[i].room) continue;
            rooms_known.insert(points[i].room->text());
            if (wired.zone == line_.zone) rooms_here.insert(points[i].room->text());
        }
        std::vector<std::uint32_t> untraced;
        for (std::uint32_t i = 0; i < points.size(); ++i) {
            const WiredPoint& wired = line_.wiring.points[i];
            if (wired.zone != nowhere || wired.kind != PointKind::speaker || !is_fitted(points[i])) continue;
            const bool may_be_here = !points[i].room || rooms_here.contains(points[i].room->text()) ||
                                     !rooms_known.contains(points[i].room->text());
            if (may_be_here) untraced.push_back(i);
        }
        return untraced;
    }

    // Watts they are likely set to: what is recorded of them, else the taps of the types on this line.
    std::vector<double> likely_watts(std::uint32_t point) const {
        const Point& record = job_.all<Point>()[point];
        if (record.tap_w) return {record.tap_w->value()};
        std::set<double> watts;
        const auto add_taps = [&](const SpeakerType* type) {
            if (!type || !type->taps_w) return;
            for (const Watts tap : *type->taps_w) watts.insert(drawn_by_tap(tap, type, zone_.line_v).value());
        };
        if (record.type) add_taps(job_.find<SpeakerType>(*record.type));
        for (std::uint32_t i = zone_.first; watts.empty() && i < zone_.last; ++i) {
            const WiredPoint& wired = line_.wiring.points[line_.wiring.order[i]];
            if (wired.speaker_type != nowhere) add_taps(&job_.all<SpeakerType>()[wired.speaker_type]);
        }
        if (watts.empty()) watts.insert(line_.weights.extra_w.begin(), line_.weights.extra_w.end());
        return {watts.begin(), watts.end()};
    }

    void add_untraced() {
        const std::vector<std::uint32_t> untraced = untraced_here();
        if (untraced.empty()) return;
        const std::uint32_t last = line_.wiring.order[zone_.last - 1];
        const auto add_group = [&](std::vector<std::uint32_t> points, double weight) {
            const std::vector<double> each = likely_watts(points.front());
            for (const double watts : each) {
                const double all = watts * static_cast<double>(points.size());
                Cause cause;
                LineChange change{What::across, output_row(last), siemens(all)};
                cause.faults.push_back({FaultKind::wrong_feed, points, all, Unit::watt, false, last, {change}});
                cause.weight = weight / static_cast<double>(each.size());
                cause.place = line_.places;
                line_.causes.push_back(std::move(cause));
            }
            ++line_.places;
        };
        add_group(untraced, line_.weights.untraced);
        if (untraced.size() == 1) return;
        for (const std::uint32_t one : untraced)
            add_group({one}, line_.weights.untraced / 2 / static_cast<double>(untraced.size()));
    }

    void add_line(FaultKind kind, bool was_read, double weight) {
        if (!was_read) return;
        Cause cause;
        cause.faults.push_back({kind, {}, std::nullopt, Unit::none, false, nowhere, {}});
        cause.weight = weight;
        cause.place = line_.places++;
        line_.causes.push_back(std::move(cause));
    }

    const Job& job_;
    FaultLine& line_;
    const WiredZone& zone_;
    std::set<std::string> snags_;
    LineRow row_ = 0;
    std::uint32_t place_ = 0;
    double factor_ = 1;
};

}  // namespace

void add_causes(const Job& job, FaultLine& line) {
    CauseList(job, line).fill();
}

}  // namespace tapwright
