#include "core/plan/fit.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "core/base/text.h"
#include "core/plan/fit_solve.h"
#include "core/plan/survey_room.h"
#include "core/units/show.h"

namespace tapwright {
namespace {

double watts_from(Nanowatts nanowatts) {
    return static_cast<double>(nanowatts) / 1e9;
}

double off_of(const FitChoice& choice, Aim aim) {
    return aim == Aim::wanted ? choice.wanted_db : choice.today_db;
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
        option.added.push_back({slot.addition, choice.marked});
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
    const Picks picks = solve_fit(problem, aim);
    FitOption option;
    option.aim = aim;
    for (std::size_t slot = 0; slot < picks.size(); ++slot)
        read_pick(job, problem.slots[slot], problem.slots[slot].choices[picks[slot]], option);
    const Nanowatts load = load_of(problem, picks);
    option.load = Watts(watts_from(load));
    const Margin& margin = derived.zones[*job.place<Zone>(request.zone)].margin;
    if (margin.limit) option.headroom = *margin.limit - *margin.reserve - option.load;
    option.can_add = Watts(watts_from(problem.nodes[0].most - load));
    return option;
}

std::string worth(Decibels change) {
    return rounded(std::abs(change.value()), 1) + (change < Decibels(0) ? " dB quieter" : " dB louder");
}

// Taps go in steps of about 3 dB, so up to half of one is what choosing among them costs.
constexpr Decibels out_of_reach{3};

bool is_out_of_reach(const FitOption& option) {
    return option.aim == Aim::wanted && option.worst_is_given && option.worst_at &&
           std::abs(option.worst.value()) > out_of_reach.value();
}

std::string place_of(const Job& job, const Id& point) {
    const std::optional<Id>& room = job.find<Point>(point)->room;
    return name_of(job, point) + (room ? " in " + name_of(job, *room) : "");
}

std::string out_of_reach_text(const Job& job, const FitOption& option) {
    const bool louder = option.worst > Decibels(0);
    return "No tap can give " + place_of(job, *option.worst_at) + " the level wanted there: even on its " +
           (louder ? "lowest it is " : "highest it is ") + worth(option.worst) +
           " with the knob at 0 dB. That figure is what hangs there, not a result of the taps chosen for the others. " +
           (louder ? "An attenuator or the amplifier's level brings it down"
                   : "A larger or more sensitive type would") +
           ", unless what is wanted in the room, or its noise, is recorded wrong.";
}

std::string in_words(const Job& job, const FitRequest& request, const FitOption& option) {
    static constexpr std::string_view leads[] = {"Fewest ladders", "Levels closest to today's",
                                                 "Levels closest to those wanted"};
    std::string text(leads[static_cast<std::size_t>(option.aim)]);
    text += option.changes.empty() ? ": no tap has to be changed" : ": change ";
    std::vector<std::string> changes;
    for (const FitChange& change : option.changes) {
        if (changes.size() == 12) {
            changes.push_back(std::to_string(option.changes.size() - 12) + " more");
            break;
        }
        changes.push_back(name_of(job, change.point) + " from " + show(change.from) + " to " + show(change.to));
    }
    text += list_in_words(changes);
    std::vector<std::string> added;
    for (std::size_t i = 0; i < request.add.size(); ++i) {
        std::vector<Watts> taps;
        for (const FitAdded& one : option.added)
            if (one.addition == i) taps.push_back(one.tap);
        std::sort(taps.begin(), taps.end());
        for (std::size_t first = 0; first < taps.size();) {
            const auto last = std::upper_bound(taps.begin(), taps.end(), taps[first]);
            const auto count = static_cast<std::size_t>(last - taps.begin()) - first;
            added.push_back(std::to_string(count) + " of " + name_of(job, request.add[i].type) + " on " +
                            show(taps[first]));
            first += count;
        }
    }
    if (!added.empty()) text += "; add " + list_in_words(added);
    text += ". " + counted(option.visits, "ladder");
    if (option.worst != Decibels(0))
        text +=
            ", at most " + worth(option.worst) + (option.aim == Aim::wanted ? " than wanted" : " than today") +
            (is_out_of_reach(option) ? " (" + place_of(job, *option.worst_at) + ", which no tap brings closer)" : "");
    return text + "; the zone then carries " + show(option.load) + " and " + show(option.can_add) +
           " may still be added.";
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
        made.missing = Watts(watts_from(shortage->missing));
        made.missing_at = point == nowhere ? request.zone : job.all<Point>()[point].id;
        return made;
    }
    for (const Aim aim : request.aims) made.options.push_back(option_for(job, derived, *problem, request, aim));
    for (const FitOption& option : made.options)
        if (is_out_of_reach(option)) made.remarks.push_back(out_of_reach_text(job, option));
    return made;
}

std::string fit_text(const Job& job, const FitRequest& request, const Fit& fit) {
    std::string text;
    if (fit.missing)
        text = "It does not fit: with every loudspeaker on its lowest tap " + show(*fit.missing) +
               " are still missing at " + name_of(job, *fit.missing_at) +
               (fit.missing_at == request.zone
                    ? ", once the reserve and the load a reading shows are kept. Another zone, a larger amplifier or "
                      "fewer loudspeakers would."
                    : ", whose rating is exceeded. A larger attenuator, or fewer loudspeakers behind it, would.");
    for (const FitOption& option : fit.options) text += (text.empty() ? "" : " ") + in_words(job, request, option);
    for (const std::string& remark : fit.remarks) text += " " + remark;
    return text;
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
        changes.push_back(
            {ChangeOp::set, Kind::point, change.point, {{point.tap_w ? "tap_w" : "planned_tap_w", change.to.value()}}});
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
