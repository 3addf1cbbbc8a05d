#include "core/plan/fit.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/plan/fit_solve.h"
#include "core/plan/survey_room.h"

namespace tapwright {
namespace {

constexpr Decibels step_of_taps{3};

double watts_from(Nanowatts nanowatts) {
    return static_cast<double>(nanowatts) / 1e9;
}

void note_worst(const Job& job, const FitSlot& slot, const FitChoice& choice, FitOption& option) {
    const double off = off_of(choice, option.aim);
    if (!(std::abs(off) > std::abs(option.worst.value()))) return;
    option.worst = Decibels(off);
    option.worst_at = slot.point == nowhere ? std::optional<Id>() : job.all<Point>()[slot.point].id;
    option.worst_is_given =
        slot.has_wanted && std::none_of(slot.choices.begin(), slot.choices.end(), [&](const FitChoice& other) {
            return std::abs(off_of(other, option.aim)) < std::abs(off) - 1e-9;
        });
}

void read_pick(const Job& job, const FitSlot& slot, const FitChoice& choice, FitOption& option) {
    note_worst(job, slot, choice, option);
    if (slot.point == nowhere) {
        option.added.insert(option.added.end(), slot.count, FitAdded{slot.addition, choice.marked});
        return;
    }
    const Point& point = job.all<Point>()[slot.point];
    const Watts current = point.tap_w ? *point.tap_w : *point.planned_tap_w;
    if (choice.marked == current) return;
    option.visits += choice.touches;
    option.changes.push_back({point.id, current, choice.marked, Decibels(choice.today_db)});
}

FitOption option_for(const Job& job, const Derived& derived, const FitProblem& problem, const FitRequest& request,
                     Aim aim) {
    const auto [picks, is_proven] = solve_fit(problem, aim);
    FitOption option;
    option.is_proven = is_proven;
    option.aim = aim;
    for (std::size_t slot = 0; slot < picks.size(); ++slot)
        read_pick(job, problem.slots[slot], problem.slots[slot].choices[picks[slot]], option);
    option.is_out_of_reach = aim == Aim::wanted && option.worst_is_given && option.worst_at &&
                             std::abs(option.worst.value()) > step_of_taps.value();
    const Nanowatts load = load_of(problem, picks);
    option.load = Watts(watts_from(load));
    const Margin& margin = derived.zones[*job.place<Zone>(request.zone)].margin;
    option.unrecorded = margin.unrecorded;
    if (margin.limit)
        option.headroom =
            without_rounding(*margin.limit - *margin.reserve - option.load - margin.unrecorded, *margin.limit);
    option.can_add = Watts(std::max(0.0, watts_from(problem.nodes[0].most - problem.nodes[0].rounding - load)));
    return option;
}

Message not_proven(const std::vector<FitOption>& options) {
    std::vector<Argument> aims;
    for (const FitOption& option : options)
        if (!option.is_proven) aims.emplace_back(as_argument(option.aim));
    return Message(
        "There are too many different taps to compare every choice. Best found, but a better one may exist: "
        "{aims}.",
        {{"aims", series(aims)}});
}

bool has_room(const Job& job, const Derived& derived, const FitRequest& request) {
    const Result<FitProblem> problem = fit_problem(job, derived, request);
    return problem && !shortage_of(*problem);
}

// As many on a lower tap.
std::optional<FitOffer> lower_tap_for(const Job& job, const Derived& derived, FitRequest request, std::size_t number) {
    FitAddition& addition = request.add[number];
    std::vector<Watts> taps = *job.find<SpeakerType>(addition.type)->taps_w;
    std::erase_if(taps, [asked = *addition.tap](Watts tap) { return !(tap < asked) || is_same_tap(tap, asked); });
    std::sort(taps.begin(), taps.end());
    const auto first_too_much = std::partition_point(taps.begin(), taps.end(), [&](Watts tap) {
        addition.tap = tap;
        return has_room(job, derived, request);
    });
    if (first_too_much == taps.begin()) return std::nullopt;
    return FitOffer{number, addition.count, *std::prev(first_too_much)};
}

// Fewer on the tap asked for.
std::optional<FitOffer> fewer_for(const Job& job, const Derived& derived, FitRequest request, std::size_t number) {
    FitAddition& addition = request.add[number];
    std::size_t least = 0, most = addition.count;  // `least` has room, if it is not 0; `most` has none
    while (most - least > 1) {
        addition.count = least + (most - least) / 2;
        (has_room(job, derived, request) ? least : most) = addition.count;
    }
    if (least == 0) return std::nullopt;
    return FitOffer{number, least, *addition.tap};
}

// For the first addition that is the reason by itself.
std::optional<FitOffer> offer_for(const Job& job, const Derived& derived, const FitRequest& request) {
    for (const auto offer : {lower_tap_for, fewer_for})
        for (std::size_t i = 0; i < request.add.size(); ++i)
            if (request.add[i].tap)
                if (auto found = offer(job, derived, request, i)) return found;
    return std::nullopt;
}

}  // namespace

std::string_view word(Aim aim) {
    static constexpr std::string_view words[] = {"fewest", "level", "wanted"};
    return words[static_cast<std::size_t>(aim)];
}

Result<Fit> fit(const Job& job, const Derived& derived, const FitRequest& request) {
    Result<FitProblem> problem = fit_problem(job, derived, request);
    if (!problem) return problem.refusal();
    Fit made;
    made.remarks = problem->remarks;
    if (const auto shortage = shortage_of(*problem)) {
        const std::uint32_t point = problem->nodes[shortage->node].point;
        made.misfit = point == nowhere ? Misfit::zone_limit : Misfit::attenuator_rating;
        made.missing = Watts(watts_from(shortage->missing + problem->nodes[shortage->node].rounding));
        made.missing_at = point == nowhere ? request.zone : job.all<Point>()[point].id;
        made.offer = offer_for(job, derived, request);
        return made;
    }
    for (const Aim aim : request.aims) made.options.push_back(option_for(job, derived, *problem, request, aim));
    if (std::any_of(made.options.begin(), made.options.end(),
                    [](const FitOption& option) { return !option.is_proven; }))
        made.remarks.push_back(not_proven(made.options));
    return made;
}

namespace {

// "C-" of the label "C-133" of the point that feeds, or of a loudspeaker beside it; empty: no such label.
std::string label_prefix(const Job& job, const FitAddition& addition) {
    const auto prefix_of = [](const Point& point) {
        if (point.kind != PointKind::speaker || !point.label) return std::string();
        const std::size_t last = point.label->find_last_not_of("0123456789");
        const bool numbered = last != std::string::npos && last + 1 < point.label->size();
        return numbered ? point.label->substr(0, last + 1) : std::string();
    };
    if (const Point* feed = addition.fed_from ? job.find<Point>(*addition.fed_from) : nullptr)
        if (std::string prefix = prefix_of(*feed); !prefix.empty()) return prefix;
    for (const Point& point : job.all<Point>())
        if (point.type == addition.type && (!addition.room || point.room == addition.room))
            if (std::string prefix = prefix_of(point); !prefix.empty()) return prefix;
    return "";
}

// Labels for what is added, one after the other.
class Labels {
public:
    explicit Labels(const Job& job) : job_(job) {}
    std::string next(const FitAddition& addition) {
        std::string prefix = label_prefix(job_, addition);
        if (prefix.empty()) prefix = "new ";
        const auto [number, is_new] = numbers_.try_emplace(prefix, 0);
        if (is_new) number->second = highest_number(job_, prefix);
        return prefix + std::to_string(++number->second);
    }

private:
    const Job& job_;
    std::map<std::string, std::uint32_t> numbers_;
};

}  // namespace

std::optional<Id> branch_end(const Job& job, const Derived& derived, const Id& zone, const Id& room) {
    const auto place = job.place<Zone>(zone);
    if (!place) return std::nullopt;
    std::set<std::string> feeds;
    for (const Point& point : job.all<Point>())
        if (point.fed_from) feeds.insert(point.fed_from->text());
    std::optional<Id> end;
    const auto points = job.all<Point>();
    for (std::size_t i = 0; i < points.size(); ++i)
        if (points[i].room == room && derived.points[i].zone == *place && !feeds.contains(points[i].id.text()) &&
            !points[i].ring_to)
            end = points[i].id;
    return end;
}

ChangeList changes_of(const Job& job, const FitRequest& request, const FitOption& option,
                      const std::function<Id()>& new_id) {
    ChangeList changes;
    for (const FitChange& change : option.changes) {
        const Point& point = *job.find<Point>(change.point);
        Change made{
            ChangeOp::set, Kind::point, change.point, {{point.tap_w ? "tap_w" : "planned_tap_w", change.to.value()}}};
        // A tap set on the bench stays there.
        if (point.state) made.fields.emplace_back("state", std::string(word(*point.state)));
        changes.push_back(std::move(made));
    }
    Labels labels(job);
    std::map<std::size_t, Id> last;  // of each addition, what the next one is fed from
    for (const FitAdded& added : option.added) {
        const FitAddition& addition = request.add[added.addition];
        const auto before = last.find(added.addition);
        const Id feed = before != last.end() ? before->second : addition.fed_from ? *addition.fed_from : request.zone;
        Change change{ChangeOp::add, Kind::point, new_id ? new_id() : Id(), {}};
        change.fields = {{"kind", "speaker"}, {"label", labels.next(addition)}};
        if (addition.room) change.fields.emplace_back("room", addition.room->text());
        change.fields.emplace_back("fed_from", feed.text());
        change.fields.emplace_back("type", addition.type.text());
        change.fields.emplace_back("planned_tap_w", added.tap.value());
        change.fields.emplace_back("state", "planned");
        change.fields.emplace_back("origin", "new");
        if (new_id) last.insert_or_assign(added.addition, change.id);
        changes.push_back(std::move(change));
    }
    return changes;
}

}  // namespace tapwright
