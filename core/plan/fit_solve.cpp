#include "core/plan/fit_solve.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "core/base/ensure.h"

namespace tapwright {
namespace {

// Costs that differ by less are the same: sums of squared decibels, added in another order.
constexpr double same_cost = 1e-9;
// Two deviations that differ by less are the same step.
constexpr double same_db = 1e-9;

// One choice for one slot, as far as an aim still allows it.
struct Option {
    Nanowatts draws = 0;
    double cost = 0;
    std::uint16_t choice = 0;
};
using Menu = std::vector<Option>;  // by ascending draws
using Menus = std::vector<Menu>;   // one a slot

// ---- sums over the tree ----

// What hangs at each node when every slot draws what `draws` says.
template <class Draws>
std::vector<Nanowatts> hanging(const FitProblem& problem, const Draws& draws) {
    std::vector<Nanowatts> sums(problem.nodes.size());
    for (std::size_t i = problem.nodes.size(); i-- > 0;) {
        const FitNode& node = problem.nodes[i];
        sums[i] += node.fixed;
        for (const std::uint32_t slot : node.slots) sums[i] += draws(slot);
        if (node.parent != nowhere) sums[node.parent] += load_through(problem, node, sums[i]);
    }
    return sums;
}

bool fits(const FitProblem& problem, const Menus& menus) {
    for (const Menu& menu : menus)
        if (menu.empty()) return false;
    const auto sums = hanging(problem, [&](std::uint32_t slot) { return menus[slot].front().draws; });
    for (std::size_t i = 0; i < sums.size(); ++i)
        if (sums[i] > problem.nodes[i].most) return false;
    return true;
}

// ---- Pareto fronts ----

struct State {
    Nanowatts watts = 0;
    double cost = 0;
    std::uint32_t left = 0;   // its place in the front before
    std::uint32_t right = 0;  // what was joined to it: a place in a menu or in a branch's front
};
using Front = std::vector<State>;

bool is_cheaper(const State& a, const State& b) {
    return a.watts != b.watts ? a.watts < b.watts : a.cost < b.cost;
}

// Keeps what no lesser load does as cheaply. Requires: in order of is_cheaper.
void drop_dominated(Front& front) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < front.size(); ++i)
        if (kept == 0 || front[i].cost < front[kept - 1].cost - same_cost) front[kept++] = front[i];
    front.resize(kept);
}

// At most `most` of them: the least load, and of each equal stretch of loads the cheapest. What stays can be reached.
// Requires: 1 < most < front.size().
void thin_out(Front& front, std::size_t most) {
    const Nanowatts least = front.front().watts;
    const double stretch = static_cast<double>(front.back().watts - least) / static_cast<double>(most - 1);
    const auto stretch_of = [&](const State& state) {
        return static_cast<std::size_t>(static_cast<double>(state.watts - least) / stretch);
    };
    std::size_t kept = 1;
    for (std::size_t i = 1; i < front.size(); ++i)
        if (i + 1 == front.size() || stretch_of(front[i]) != stretch_of(front[i + 1])) front[kept++] = front[i];
    front.resize(kept);
}

// All sums of two fronts within `most`. Each element of `right` gives a run that is in order already.
template <class Right>
Front joined(const Front& left, const std::vector<Right>& right, Nanowatts most) {
    Front sums;
    std::vector<std::size_t> starts;
    for (std::uint32_t r = 0; r < right.size(); ++r) {
        starts.push_back(sums.size());
        const auto [watts, cost] = [&] {
            if constexpr (requires { right[r].draws; })
                return std::pair(right[r].draws, right[r].cost);
            else
                return std::pair(right[r].watts, right[r].cost);
        }();
        for (std::uint32_t l = 0; l < left.size() && left[l].watts + watts <= most; ++l)
            sums.push_back({left[l].watts + watts, left[l].cost + cost, l, r});
    }
    starts.push_back(sums.size());
    const auto at = [&](std::size_t run) {
        return sums.begin() + static_cast<std::ptrdiff_t>(starts[std::min(run, starts.size() - 1)]);
    };
    for (std::size_t width = 1; width + 1 < starts.size(); width *= 2)
        for (std::size_t run = 0; run + width + 1 < starts.size(); run += 2 * width)
            std::inplace_merge(at(run), at(run + width), at(run + 2 * width), is_cheaper);
    drop_dominated(sums);
    return sums;
}

// What is needed to find the way back: one step joined one slot or one branch, or led through an attenuator.
struct Link {
    std::uint32_t left = 0;
    std::uint32_t right = 0;
};
struct Step {
    enum class Kind : std::uint8_t { slot, branch, through } kind = Kind::slot;
    std::uint32_t what = 0;  // the slot or the branch's node
    std::vector<Link> links;
};

// What is found, and whether nothing was left out on the way.
struct Solution {
    Picks picks;
    bool is_proven = true;
};

class Solver {
public:
    // `most_sums`: of the whole run. `thins`: states are left out so that they suffice; else run() gives up.
    Solver(const FitProblem& problem, const Menus& menus, std::size_t most_sums, bool thins)
        : problem_(problem),
          menus_(menus),
          most_sums_(most_sums),
          thins_(thins),
          fronts_(problem.nodes.size()),
          steps_(problem.nodes.size()),
          branches_(problem.nodes.size()),
          least_(hanging(problem, [&](std::uint32_t slot) { return menus[slot].front().draws; })) {
        for (std::uint32_t i = 1; i < problem.nodes.size(); ++i) branches_[problem.nodes[i].parent].push_back(i);
    }

    // Nothing where more sums would be needed than are allowed.
    std::optional<Solution> run() {
        std::size_t joins = 0;
        for (const Menu& menu : menus_) joins += menu.size();
        share_ = most_sums_ / std::max<std::size_t>(1, joins + problem_.nodes.size());
        for (auto node = static_cast<std::uint32_t>(problem_.nodes.size()); node-- > 0;)
            if (!solve(node)) return std::nullopt;
        // Costs fall along a front: its last state is the cheapest.
        TAPWRIGHT_ENSURE(!fronts_[0].empty());
        return Solution{picks_from(static_cast<std::uint32_t>(fronts_[0].size() - 1)), is_proven_};
    }

private:
    // Whether there may be so many sums more.
    bool allows(const Front& left, std::size_t right) {
        const std::size_t sums = left.size() * right;
        sums_ += sums;
        return sums <= most_at_once && kept_ <= most_kept && sums_ <= most_sums_;
    }

    // Leaves states out, and remembers where those that stay were.
    void thin(std::uint32_t node, Front& front, std::size_t most) {
        if (!thins_ || front.size() <= most) return;
        for (std::uint32_t i = 0; i < front.size(); ++i) front[i].left = i;
        thin_out(front, most);
        remember(node, Step::Kind::through, 0, front);
        is_proven_ = false;
    }

    // Returns: false where it would take too many sums.
    bool solve(std::uint32_t number) {
        const FitNode& node = problem_.nodes[number];
        Front front{{node.fixed, 0, 0, 0}};
        // What is still to come here takes at least this much.
        Nanowatts rest = least_[number] - node.fixed;
        for (const std::uint32_t slot : node.slots) {
            rest -= menus_[slot].front().draws;
            thin(number, front, std::max(fewest_states, share_));
            if (!thins_ && !allows(front, menus_[slot].size())) return false;
            front = joined(front, menus_[slot], node.most - rest);
            remember(number, Step::Kind::slot, slot, front);
        }
        for (const std::uint32_t branch : branches_[number]) {
            rest -= load_through(problem_, problem_.nodes[branch], least_[branch]);
            const auto side = std::max(fewest_states, static_cast<std::size_t>(std::sqrt(share_)));
            thin(branch, fronts_[branch], side);
            thin(number, front, side);
            if (!thins_ && !allows(front, fronts_[branch].size())) return false;
            front = joined(front, fronts_[branch], node.most - rest);
            remember(number, Step::Kind::branch, branch, front);
            fronts_[branch] = {};
        }
        if (node.parent != nowhere) {
            for (std::uint32_t i = 0; i < front.size(); ++i) {
                front[i].watts = load_through(problem_, node, front[i].watts);
                front[i].left = i;
            }
            drop_dominated(front);
            remember(number, Step::Kind::through, 0, front);
        }
        fronts_[number] = std::move(front);
        return true;
    }

    void remember(std::uint32_t node, Step::Kind kind, std::uint32_t what, const Front& front) {
        kept_ += front.size();
        Step step{kind, what, {}};
        step.links.reserve(front.size());
        for (const State& state : front) step.links.push_back({state.left, state.right});
        steps_[node].push_back(std::move(step));
    }

    Picks picks_from(std::uint32_t best) const {
        Picks picks(problem_.slots.size(), 0);
        std::vector<std::pair<std::uint32_t, std::uint32_t>> open{{0, best}};  // node, place in its front
        while (!open.empty()) {
            auto [node, place] = open.back();
            open.pop_back();
            for (auto step = steps_[node].rbegin(); step != steps_[node].rend(); ++step) {
                const Link link = step->links[place];
                if (step->kind == Step::Kind::slot) picks[step->what] = menus_[step->what][link.right].choice;
                if (step->kind == Step::Kind::branch) open.emplace_back(step->what, link.right);
                place = link.left;
            }
        }
        return picks;
    }

    static constexpr std::size_t fewest_states = 64;
    // Of the memory: 24 bytes a sum, and as much again to put them in order; 8 bytes a state kept for the way back.
    static constexpr std::size_t most_at_once = 2'000'000;
    static constexpr std::size_t most_kept = 8'000'000;

    const FitProblem& problem_;
    const Menus& menus_;
    std::size_t most_sums_;
    bool thins_;
    std::size_t share_ = 0;  // of the sums, for one choice of one slot
    std::size_t sums_ = 0;
    std::size_t kept_ = 0;
    bool is_proven_ = true;
    std::vector<Front> fronts_;
    std::vector<std::vector<Step>> steps_;
    std::vector<std::vector<std::uint32_t>> branches_;
    std::vector<Nanowatts> least_;
};

// Exactly, or as well as the effort allows. Requires: fits(problem, menus).
Solution solve_menus(const FitProblem& problem, const Menus& menus, const FitEffort& effort) {
    if (auto exact = Solver(problem, menus, effort.exact, false).run()) return std::move(*exact);
    auto found = Solver(problem, menus, effort.thinned, true).run();
    TAPWRIGHT_ENSURE(found.has_value());
    found->is_proven = false;
    return std::move(*found);
}

// ---- aims ----

// What a ladder costs: more than every sum of squared decibels there can be.
double ladder_of(const FitProblem& problem) {
    double most = 1;
    for (const FitSlot& slot : problem.slots) {
        double worst = 0;
        for (const FitChoice& choice : slot.choices) worst = std::max(worst, choice.today_db * choice.today_db);
        most += worst * static_cast<double>(slot.count);
    }
    return most;
}

// The choices within `worst` dB, each at its squared deviation, and at a ladder where the aim counts them.
Menus menus_within(const FitProblem& problem, Aim aim, double worst) {
    const double ladder = aim == Aim::fewest ? ladder_of(problem) : 0;
    Menus menus(problem.slots.size());
    for (std::size_t slot = 0; slot < menus.size(); ++slot) {
        const std::vector<FitChoice>& choices = problem.slots[slot].choices;
        for (std::size_t i = 0; i < choices.size(); ++i) {
            const double off = off_of(choices[i], aim);
            if (std::abs(off) > worst + same_db) continue;
            const auto count = static_cast<double>(problem.slots[slot].count);
            const double cost = off * off * count + (choices[i].touches ? ladder : 0);
            menus[slot].push_back({choices[i].draws, cost, static_cast<std::uint16_t>(i)});
        }
    }
    return menus;
}

// The least worst of an aim, and what it took to find it.
class LeastWorst {
public:
    LeastWorst(const FitProblem& problem, Aim aim, const FitEffort& effort)
        : problem_(problem), aim_(aim), effort_{effort.exact / 6, effort.thinned / 8} {}

    double find();
    bool is_proven() const { return is_proven_; }

private:
    std::optional<double> fewest_within(double worst);

    const FitProblem& problem_;
    Aim aim_;
    // Several of these are run one after the other.
    FitEffort effort_;
    bool is_proven_ = true;
};

// The fewest ladders that fit within `worst` dB; nothing where nothing fits. Each slot is left, or climbed to and put
// on its lowest tap.
std::optional<double> LeastWorst::fewest_within(double worst) {
    Menus menus = menus_within(problem_, Aim::fewest, worst);
    if (!fits(problem_, menus)) return std::nullopt;
    for (std::size_t slot = 0; slot < menus.size(); ++slot)
        for (Option& option : menus[slot]) option.cost = problem_.slots[slot].choices[option.choice].touches ? 1 : 0;
    double count = 0;
    const Solution found = solve_menus(problem_, menus, effort_);
    if (!found.is_proven) effort_.exact = 0;  // the next would be given up as well
    is_proven_ &= found.is_proven;
    for (std::size_t slot = 0; slot < menus.size(); ++slot)
        count += problem_.slots[slot].choices[found.picks[slot]].touches;
    return count;
}

std::vector<double> possible_worsts(const FitProblem& problem, Aim aim) {
    std::vector<double> worsts;
    for (const FitSlot& slot : problem.slots)
        for (const FitChoice& choice : slot.choices) worsts.push_back(std::abs(off_of(choice, aim)));
    std::sort(worsts.begin(), worsts.end());
    worsts.erase(std::unique(worsts.begin(), worsts.end(), [](double a, double b) { return b - a <= same_db; }),
                 worsts.end());
    return worsts;
}

double LeastWorst::find() {
    const std::vector<double> worsts = possible_worsts(problem_, aim_);
    if (worsts.empty()) return 0;
    const std::optional<double> fewest = aim_ == Aim::fewest ? fewest_within(worsts.back()) : std::optional<double>();
    return *std::partition_point(worsts.begin(), worsts.end() - 1, [&](double worst) {
        return aim_ == Aim::fewest ? fewest_within(worst) != fewest
                                   : !fits(problem_, menus_within(problem_, aim_, worst));
    });
}

// Whether two loudspeakers have the same choices, as an order: neither is before the other then.
bool is_before(const FitSlot& a, const FitSlot& b) {
    const auto head = [](const FitSlot& slot) {
        return std::tuple(slot.point == nowhere, slot.addition, slot.choices.size());
    };
    if (head(a) != head(b)) return head(a) < head(b);
    return std::lexicographical_compare(a.choices.begin(), a.choices.end(), b.choices.begin(), b.choices.end(),
                                        [](const FitChoice& x, const FitChoice& y) {
                                            return std::tie(x.draws, x.touches, x.today_db, x.wanted_db) <
                                                   std::tie(y.draws, y.touches, y.today_db, y.wanted_db);
                                        });
}

// Loudspeakers with the same choices at the same node can change places: equal picks then stand together, in record
// order, which is mostly one room after the other.
void gather(const FitProblem& problem, Picks& picks) {
    const auto less = [&](std::uint32_t a, std::uint32_t b) { return is_before(problem.slots[a], problem.slots[b]); };
    for (const FitNode& node : problem.nodes) {
        std::map<std::uint32_t, std::vector<std::uint32_t>, decltype(less)> groups(less);
        for (const std::uint32_t slot : node.slots) groups[slot].push_back(slot);
        for (const auto& [first, group] : groups) {
            std::vector<std::uint16_t> chosen;
            for (const std::uint32_t slot : group) chosen.push_back(picks[slot]);
            std::sort(chosen.begin(), chosen.end());
            for (std::size_t i = 0; i < group.size(); ++i) picks[group[i]] = chosen[i];
        }
    }
}

}  // namespace

std::optional<Shortage> shortage_of(const FitProblem& problem) {
    const auto sums = hanging(problem, [&](std::uint32_t slot) { return problem.slots[slot].choices.front().draws; });
    std::optional<Shortage> worst;
    for (std::uint32_t i = 0; i < sums.size(); ++i) {
        const Nanowatts missing = sums[i] - problem.nodes[i].most;
        if (missing > 0 && (!worst || missing > worst->missing)) worst = Shortage{missing, i};
    }
    return worst;
}

FitPicks solve_fit(const FitProblem& problem, Aim aim, const FitEffort& effort) {
    LeastWorst worst(problem, aim, effort);
    const Menus menus = menus_within(problem, aim, worst.find());
    Solution found = solve_menus(problem, menus, effort);
    gather(problem, found.picks);
    return {std::move(found.picks), found.is_proven && worst.is_proven()};
}

Nanowatts load_of(const FitProblem& problem, const Picks& picks) {
    return hanging(problem, [&](std::uint32_t slot) { return problem.slots[slot].choices[picks[slot]].draws; })[0];
}

}  // namespace tapwright
