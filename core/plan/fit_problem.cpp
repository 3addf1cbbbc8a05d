#include "core/plan/fit_problem.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/calc/branches.h"
#include "core/calc/emergency.h"
#include "core/calc/loads.h"
#include "core/job/relations.h"
#include "core/plan/survey.h"
#include "core/plan/survey_room.h"
#include "core/plan/unknown_headroom.h"
#include "core/units/unit.h"

namespace tapwright {
namespace {

double decibels(double ratio) {
    return 10 * std::log10(ratio);
}
double watts_of(const FitChoice& choice) {
    return static_cast<double>(choice.draws) / 1e9;
}

class Builder {
public:
    Builder(const Job& job, const Derived& derived, const FitRequest& request, std::uint32_t zone)
        : job_(job), derived_(derived), request_(request), wiring_(wire(job)), zone_(zone) {}

    Result<FitProblem> run() {
        problem_.line_v = derived_.zones[zone_].line_v;
        problem_.nodes.emplace_back();
        if (const Result<void> limited = limit_zone(); !limited) return limited.refusal();
        if (const Result<void> read = read_points(); !read) return read.refusal();
        for (std::size_t i = 0; i < request_.add.size(); ++i)
            if (const Result<void> added = add(i); !added) return added.refusal();
        remark_on_levels();
        return std::move(problem_);
    }

private:
    // What the zone may carry: the least that zone, output and amplifier leave it, as can_add has it.
    Result<void> limit_zone() {
        if (auto unknown = unknown_headroom(job_, derived_, zone_)) return Refusal{std::move(*unknown)};
        const ZoneState& zone = derived_.zones[zone_];
        hold(zone.margin.limit, zone.margin);
        hold(channel_limit_on_the_way(job_, derived_, *zone.channel), derived_.channels[*zone.channel].margin);
        hold(amplifier_limit_on_the_way(job_, derived_, *zone.amplifier), derived_.amplifiers[*zone.amplifier].margin);
        limit_node(problem_.nodes[0], most_, rounding_);
        return done();
    }

    static void limit_node(FitNode& node, double most, double rounding) {
        node.rounding = nanowatts_of(rounding);
        node.most = nanowatts_of(most) + node.rounding;
    }

    void hold(const std::optional<Watts>& limit, const Margin& margin) {
        const double reserve = job_.info().reserve_pct.value_or(Defaults::reserve_pct).value() / 100;
        const Watts others = margin.load - derived_.zones[zone_].margin.load;
        const double most = (*limit * (1 - reserve) - others - margin.unrecorded).value();
        if (most < most_) rounding_ = limit->value() * rounding_share;
        most_ = std::min(most_, most);
    }

    void remark_on_levels() {
        const bool asked = std::find(request_.aims.begin(), request_.aims.end(), Aim::wanted) != request_.aims.end();
        const auto unknown = static_cast<std::size_t>(std::count_if(
            problem_.slots.begin(), problem_.slots.end(), [](const FitSlot& slot) { return !slot.has_wanted; }));
        if (asked && unknown > 0)
            problem_.remarks.push_back(plural("{count} loudspeaker has no wanted level; today's level was used.",
                                              "{count} loudspeakers have no wanted level; today's level was used.",
                                              static_cast<std::int64_t>(unknown)));
    }

    // Whole nanowatts add up exactly up to nine gigawatts; no line carries a hundredth of that.
    Result<void> weigh(double watts) {
        constexpr double most = 1e8;
        all_watts_ += watts;
        if (all_watts_ <= most) return done();
        return Refusal{
            Message("{zone} would carry more than 100 MW with every loudspeaker on its highest tap. Correct the "
                    "taps, the voltage they are marked for, or the line's.",
                    {{"zone", entered(name_of(job_, request_.zone))}})};
    }

    // The node a point's own load belongs to, or what hangs behind its output.
    std::uint32_t node_before(const WiredPoint& point) const {
        if (point.feed == nowhere) return 0;
        return point.feed_in ? before_.at(point.feed) : behind_.at(point.feed);
    }

    Result<void> read_points() {
        const WiredZone& zone = wiring_.zones[zone_];
        for (std::uint32_t i = zone.first; i < zone.last; ++i) {
            const std::uint32_t place = wiring_.order[i];
            const WiredPoint& point = wiring_.points[place];
            const std::uint32_t node = node_before(point);
            before_[place] = behind_[place] = node;
            if (point.kind == PointKind::attenuator) behind_[place] = add_node(place, node);
        }
        if (const Result<void> known = check_left(); !known) return known.refusal();
        // Slots stand in record order, so that options name loudspeakers as lists do.
        for (const auto& [place, node] : before_) {
            if (wiring_.points[place].kind != PointKind::speaker || !wiring_.points[place].draw.counts) continue;
            if (const Result<void> read = add_speaker(place, node); !read) return read.refusal();
        }
        if (covered_ > 0)
            problem_.remarks.push_back(
                plural("{count} loudspeaker has no tap recorded. The reading covers it: left as it is.",
                       "{count} loudspeakers have no tap recorded. The reading covers them: left as they are.",
                       static_cast<std::int64_t>(covered_)));
        if (without_type_ > 0)
            problem_.remarks.push_back(plural("{count} loudspeaker has no known type, or no tap: left as recorded.",
                                              "{count} loudspeakers have no known type, or no tap: left as recorded.",
                                              static_cast<std::int64_t>(without_type_)));
        return done();
    }

    // Only what is in the zone can be left as it is.
    Result<void> check_left() const {
        for (const Id& id : request_.leave) {
            const auto place = job_.place<Point>(id);
            if (!place || !before_.contains(*place) || wiring_.points[*place].kind != PointKind::speaker)
                return Refusal{
                    Message("{point} is not a loudspeaker of {zone}, so it cannot be left as it is there. "
                            "Name one of that zone.",
                            {{"point", code(id.text())}, {"zone", entered(name_of(job_, request_.zone))}})};
        }
        return done();
    }
    bool is_left(const Id& point) const {
        return std::find(request_.leave.begin(), request_.leave.end(), point) != request_.leave.end();
    }

    std::uint32_t add_node(std::uint32_t place, std::uint32_t parent) {
        const WiredPoint& point = wiring_.points[place];
        FitNode node;
        node.parent = parent;
        node.point = place;
        if (point.attenuator_type != nowhere) {
            const AttenuatorType& type = job_.all<AttenuatorType>()[point.attenuator_type];
            if (type.build == AttenuatorBuild::l_pad) node.pad = &type;
        }
        if (const auto rating = derived_.points[place].rating) {
            // A tap behind it that only a reading covers: all that is unrecorded may be there.
            const bool has_covered = point.behind_basis == Basis::at_least;
            const Watts covered = has_covered ? derived_.zones[zone_].margin.unrecorded : Watts(0);
            limit_node(node, (*rating - covered).value(), rating->value() * rounding_share);
        } else {
            node.most = nanowatts_of(point.behind_w);
            problem_.remarks.push_back(
                Message("Rating of attenuator {attenuator} unknown: nothing was added behind it.",
                        {{"attenuator", entered(name_of(job_, job_.all<Point>()[place].id))}}));
        }
        problem_.nodes.push_back(node);
        return static_cast<std::uint32_t>(problem_.nodes.size() - 1);
    }

    // Deviations from today's (or a neighbour's) tap, and from the room's wanted level where it can be known.
    void judge(FitSlot& slot, Watts reference, const std::optional<Id>& room, const Id& type) {
        const std::optional<double> target = room ? target_watts(*room, type) : std::nullopt;
        slot.has_wanted = target.has_value();
        const SpeakerType* record = job_.find<SpeakerType>(type);
        for (FitChoice& made : slot.choices) {
            made.today_db = made.marked == reference ? 0 : decibels(made.marked / reference);
            made.wanted_db = target ? decibels(delivered_by_tap(made.marked, record, problem_.line_v).value() / *target)
                                    : made.today_db;
        }
    }

    // The watts into each loudspeaker at which the room has its wanted level: over its floor where its loudspeakers'
    // places are recorded, else straight below one.
    std::optional<double> target_watts(const Id& room, const Id& type) {
        const auto [known, is_new] = targets_.try_emplace({room.text(), type.text()});
        if (!is_new) return known->second;
        const Result<RoomFigures> figures = figures_of(job_, room);
        const Result<TypeFigures> sound = figures_of_type(job_, type);
        if (!figures || !sound) return std::nullopt;
        const auto wanted = wanted_in(*job_.find<Room>(room), request_.margin);
        if (!wanted) return std::nullopt;
        SoundLevel one_watt = level_on_axis(sound->sensitivity, Watts(1), figures->drop);
        const Result<RoomSources> sources = sources_of_room(job_, derived_, room, true);
        if (sources && !sources->sources.empty()) one_watt = level_map(sources->sources, figures->floor).mean;
        return known->second = power_ratio(*wanted - one_watt);
    }

    Result<void> add_speaker(std::uint32_t place, std::uint32_t node) {
        const WiredPoint& wired = wiring_.points[place];
        const Point& point = job_.all<Point>()[place];
        const std::optional<Watts> current = point.tap_w ? point.tap_w : point.planned_tap_w;
        const SpeakerType* type =
            wired.speaker_type == nowhere ? nullptr : &job_.all<SpeakerType>()[wired.speaker_type];
        if (type && current && !wired.draw.on_low_z) ++taps_in_use_[{*point.type, current->value()}];
        const bool chooses = type && type->taps_w && !wired.draw.on_low_z && current;
        if (!chooses || is_left(point.id)) {
            if (const Result<void> weighed = weigh(wired.draw.watts); !weighed) return weighed.refusal();
            problem_.nodes[node].fixed += nanowatts_of(wired.draw.watts);
            if (!chooses) ++(wired.draw.known ? without_type_ : covered_);
            return done();
        }
        FitSlot slot;
        slot.point = place;
        slot.choices = fit_choices(*type, problem_.line_v, current, is_fitted(point));
        if (slot.choices.empty()) return nothing_allowed(*type);
        if (const Result<void> weighed = weigh(watts_of(slot.choices.back())); !weighed) return weighed.refusal();
        judge(slot, *current, point.room, *point.type);
        put(std::move(slot), node);
        return done();
    }

    Refusal nothing_allowed(const SpeakerType& type) const {
        return {Message(
            "Every tap of {type} draws more than its max power, {most}, on this line. Correct the max power, or "
            "choose another type.",
            {{"type", entered(name_of(job_, type.id))}, {"most", *type.max_w}})};
    }

    void put(FitSlot slot, std::uint32_t node) {
        problem_.nodes[node].slots.push_back(static_cast<std::uint32_t>(problem_.slots.size()));
        problem_.slots.push_back(std::move(slot));
    }

    // The tap an added loudspeaker should have: the commonest of its type in the zone (of several the largest), else
    // its highest.
    Watts tap_beside(const Id& type, const std::vector<FitChoice>& choices) const {
        std::pair<int, double> best{0, choices.back().marked.value()};
        for (const auto& [in_use, count] : taps_in_use_)
            if (in_use.first == type) best = std::max(best, {count, in_use.second});
        return Watts(best.second);
    }

    Result<std::uint32_t> node_of(const FitAddition& addition) const {
        if (!addition.fed_from || addition.fed_from == request_.zone) return 0u;
        const auto place = job_.place<Point>(*addition.fed_from);
        if (!place || !behind_.contains(*place))
            return Refusal{
                Message("{feed} is not a point of {zone}, so nothing there can be fed from it. Name a point of "
                        "that zone.",
                        {{"feed", code(addition.fed_from->text())}, {"zone", entered(name_of(job_, request_.zone))}})};
        return behind_.at(*place);
    }

    Result<void> add(std::size_t number) {
        const FitAddition& addition = request_.add[number];
        const SpeakerType* type = job_.find<SpeakerType>(addition.type);
        if (!type) return no_type(addition.type);
        if (!type->taps_w || type->taps_w->empty()) return no_taps(job_, type->id);
        if (addition.tap && !offers_tap(*type, *addition.tap)) return no_such_tap(job_, *type, *addition.tap);
        if (addition.room && !job_.has(Kind::room, *addition.room)) return no_room(*addition.room);
        const Result<std::uint32_t> node = node_of(addition);
        if (!node) return node.refusal();
        FitSlot slot;
        slot.addition = number;
        slot.choices = fit_choices(*type, problem_.line_v, std::nullopt, false);
        if (addition.tap)
            std::erase_if(slot.choices,
                          [&](const FitChoice& made) { return !is_same_tap(made.marked, *addition.tap); });
        if (slot.choices.empty()) return nothing_allowed(*type);
        judge(slot, addition.tap ? slot.choices[0].marked : tap_beside(addition.type, slot.choices), addition.room,
              addition.type);
        if (const auto weighed = weigh(watts_of(slot.choices.back()) * static_cast<double>(addition.count)); !weighed)
            return weighed.refusal();
        // A tap that is given is nobody's choice and no deviation.
        if (addition.tap) slot.choices[0].today_db = slot.choices[0].wanted_db = 0;
        slot.count = addition.count;
        for (FitChoice& choice : slot.choices) choice.draws *= static_cast<Nanowatts>(addition.count);
        put(std::move(slot), *node);
        return done();
    }

    const Job& job_;
    const Derived& derived_;
    const FitRequest& request_;
    const Wiring wiring_;
    const std::uint32_t zone_;
    FitProblem problem_;
    std::map<std::uint32_t, std::uint32_t> before_;  // of each point of the zone: the node it draws from
    std::map<std::uint32_t, std::uint32_t> behind_;  // and the one that what it feeds draws from
    std::map<std::pair<std::string, std::string>, std::optional<double>> targets_;
    std::map<std::pair<Id, double>, int> taps_in_use_;  // by type
    std::size_t without_type_ = 0;
    std::size_t covered_ = 0;                                // no tap known, but inside what a reading shows
    double all_watts_ = 0;                                   // with everything on its highest tap
    double most_ = std::numeric_limits<double>::infinity();  // that the zone may carry
    double rounding_ = 0;                                    // of the limit that says so
};

}  // namespace

Nanowatts load_through(const FitProblem& problem, const FitNode& node, Nanowatts behind) {
    if (!node.pad) return behind;
    return nanowatts_of(load_of_l_pad(*node.pad, problem.line_v, static_cast<double>(behind) / 1e9));
}

Result<FitProblem> fit_problem(const Job& job, const Derived& derived, const FitRequest& request) {
    const auto zone = job.place<Zone>(request.zone);
    if (!zone) return no_zone(request.zone);
    if (emergency_of(job, derived, request.zone) == Answer::yes)
        return Refusal{
            Message("{zone} is part of a fire or emergency system, so nothing is fitted there. Leave it to "
                    "qualified people.",
                    {{"zone", entered(name_of(job, request.zone))}})};
    if (derived.zones[*zone].low_impedance)
        return Refusal{Message("{zone} is a low-impedance zone, where taps do not count. Check the impedance instead.",
                               {{"zone", entered(name_of(job, request.zone))}})};
    return Builder(job, derived, request, *zone).run();
}

}  // namespace tapwright
