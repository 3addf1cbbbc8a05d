#include "tests/faults/dense_line.h"

#include <cmath>
#include <utility>

namespace tapwright::test {
namespace {

using Matrix = std::vector<std::vector<double>>;

std::vector<double> eliminated(Matrix a) {
    const std::size_t n = a.size();
    for (std::size_t column = 0; column < n; ++column) {
        std::size_t pivot = column;
        for (std::size_t row = column + 1; row < n; ++row)
            if (std::abs(a[row][column]) > std::abs(a[pivot][column])) pivot = row;
        std::swap(a[column], a[pivot]);
        for (std::size_t row = column + 1; row < n; ++row) {
            const double factor = a[row][column] / a[column][column];
            if (factor == 0) continue;
            for (std::size_t k = column; k <= n; ++k) a[row][k] -= factor * a[column][k];
        }
    }
    std::vector<double> x(n);
    for (std::size_t row = n; row-- > 0;) {
        x[row] = a[row][n];
        for (std::size_t k = row + 1; k < n; ++k) x[row] -= a[row][k] * x[k];
        x[row] /= a[row][row];
    }
    return x;
}

}  // namespace

bool DenseLine::is_behind(std::size_t node, std::size_t upper) const {
    while (node != upper && node != 0) node = static_cast<std::size_t>(nodes[node].feed);
    return node == upper;
}

std::vector<double> DenseLine::solved(std::size_t at) const {
    std::vector<std::size_t> index(nodes.size(), nodes.size() * 3);
    std::vector<std::size_t> behind;
    for (std::size_t node = 0; node < nodes.size(); ++node)
        if (is_behind(node, at)) {
            index[node] = behind.size();
            behind.push_back(node);
        }
    std::size_t unknowns = behind.size() + 1;  // volts, and the source's amps
    for (const std::size_t node : behind) unknowns += node != at && nodes[node].is_output;
    Matrix a(unknowns, std::vector<double>(unknowns + 1, 0));
    std::size_t next = behind.size() + 1;
    a[index[at]][behind.size()] = -1;  // the source puts amps in there
    a[behind.size()][index[at]] = 1;
    a[behind.size()][unknowns] = 1;
    for (const std::size_t node : behind) {
        const DenseNode& here = nodes[node];
        const std::size_t row = index[node];
        a[row][row] += here.load;
        if (node == at) continue;
        const std::size_t feed = index[static_cast<std::size_t>(here.feed)];
        if (here.is_output) {
            const AttenuatorNetwork& network = here.network;
            const std::size_t amps = next++;
            a[row][row] += network.shunt_s;
            a[row][amps] -= 1;
            if (network.voltage_gain == 0) {
                a[amps][amps] = 1;  // off: no amps
                if (a[row][row] == 0) a[row][row] = 1;
                continue;
            }
            a[feed][amps] += network.admittance_gain / network.voltage_gain;
            a[amps][row] = 1;
            a[amps][amps] = network.series_ohm;
            a[amps][feed] = -network.voltage_gain;
            continue;
        }
        if (std::isinf(here.run)) {
            a[row][row] += 1e-15;  // nothing else need hold it
            continue;
        }
        const double g = 1 / here.run;
        a[row][row] += g;
        a[feed][feed] += g;
        a[row][feed] -= g;
        a[feed][row] -= g;
    }
    std::vector<double> x = eliminated(std::move(a));
    std::vector<double> answer(nodes.size() + 1, 0);
    for (const std::size_t node : behind) answer[node] = x[index[node]];
    answer[nodes.size()] = x[behind.size()];
    return answer;
}

double DenseLine::siemens(std::size_t at) const {
    return solved(at)[nodes.size()];
}

double DenseLine::volts(std::size_t at, std::size_t there) const {
    return solved(at)[there];
}

}  // namespace tapwright::test
