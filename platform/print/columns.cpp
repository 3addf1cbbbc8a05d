#include "platform/print/columns.h"

#include <algorithm>
#include <numeric>

namespace tapwright::print {
namespace {

double sum(const std::vector<double>& values) {
    double total = 0;
    for (const double value : values) total += value;
    return total;
}

std::vector<double> needs(const std::vector<ColumnDemand>& demands, double ColumnDemand::*need) {
    std::vector<double> widths;
    widths.reserve(demands.size());
    for (const ColumnDemand& demand : demands) widths.push_back(demand.*need);
    return widths;
}

double share(const ColumnDemand& demand) {
    return std::max(demand.weight, 0.05);
}

// Gives `left` to the columns by weight, none beyond its ceiling. Returns: what nobody wanted.
double pour(std::vector<double>& widths, const std::vector<ColumnDemand>& demands, const std::vector<double>& ceilings,
            double left) {
    for (std::size_t round = 0; round <= widths.size() && left > 0.001; ++round) {
        double thirst = 0;
        for (std::size_t k = 0; k < widths.size(); ++k)
            if (widths[k] < ceilings[k]) thirst += share(demands[k]);
        if (thirst <= 0) break;
        const double level = left / thirst;
        for (std::size_t k = 0; k < widths.size(); ++k) {
            if (widths[k] >= ceilings[k]) continue;
            const double gain = std::min(level * share(demands[k]), ceilings[k] - widths[k]);
            widths[k] += gain;
            left -= gain;
        }
    }
    return left;
}

// Spares the columns that lack little for one line from breaking at all, those that lack least first.
// Returns: what is left.
double complete(std::vector<double>& widths, const std::vector<double>& natural, double left) {
    constexpr double little = 36;
    std::vector<std::size_t> order(widths.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](auto a, auto b) { return natural[a] - widths[a] < natural[b] - widths[b]; });
    for (const std::size_t k : order) {
        const double lack = natural[k] - widths[k];
        if (lack <= 0 || lack > std::min(little, left)) continue;
        widths[k] = natural[k];
        left -= lack;
    }
    return left;
}

}  // namespace

std::vector<double> column_widths(const std::vector<ColumnDemand>& demands, double available) {
    const std::vector<double> natural = needs(demands, &ColumnDemand::natural);
    std::vector<double> widths(demands.size(), 0);
    for (double ColumnDemand::*const need : {&ColumnDemand::easy, &ColumnDemand::word}) {
        const std::vector<double> floor = needs(demands, need);
        if (sum(floor) > available) continue;
        widths = floor;
        break;
    }
    if (sum(widths) == 0) pour(widths, demands, needs(demands, &ColumnDemand::word), available);
    double left = complete(widths, natural, available - sum(widths));
    left = pour(widths, demands, natural, left);
    const std::vector<double> boundless(demands.size(), available);
    pour(widths, demands, boundless, left);
    return widths;
}

}  // namespace tapwright::print
