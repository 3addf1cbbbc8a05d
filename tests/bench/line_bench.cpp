// The line solution's speed: per point, its linearity, and beside a whole run of ngspice on the same ladder.
//
// Ends with status 1 when a required figure is missed. Needs ngspice (Debian package ngspice).
#include <benchmark/benchmark.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <complex>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <string>

#include "core/line/tree.h"

namespace tapwright {

namespace {

using Complex = std::complex<double>;
constexpr double volts = 100;

constexpr double hz = 1000;

// A ladder of equal steps with the same cable and the same taps in all, however many points, so that every size sees
// the same loss: 10 ohm of cable, 100 W of taps on 100 V. The complex loads are a resistor beside a capacitor: of all
// loads with a phase the quickest for the simulator (no further unknowns), hence the least flattering comparison.
struct LadderParts {
    double run_ohm;
    double load_ohm;
    double beside_farad;
    explicit LadderParts(std::size_t points) {
        const double count = static_cast<double>(points);
        run_ohm = 10 / count;
        load_ohm = 100 * count;
        beside_farad = 1e-7 / count;
    }
};

double load_of(const LadderParts& parts, double) {
    return 1 / parts.load_ohm;
}
Complex load_of(const LadderParts& parts, Complex) {
    return {1 / parts.load_ohm, 2 * std::numbers::pi * hz * parts.beside_farad};
}

template <class Scalar>
LineTree<Scalar> ladder(std::size_t points) {
    const LadderParts parts(points);
    const Scalar load = load_of(parts, Scalar());
    LineTree<Scalar> tree;
    tree.reserve(points + 1);
    LineRow feed = tree.add_source(Volts(volts));
    for (std::size_t k = 0; k < points; ++k) feed = tree.add_point(feed, Ohms(parts.run_ohm), load);
    return tree;
}

template <class Scalar>
void solve_ladder(benchmark::State& state) {
    const auto points = static_cast<std::size_t>(state.range(0));
    const auto tree = ladder<Scalar>(points);
    LineSolution<Scalar> solution;
    for (auto unused : state) {
        solve(tree, solution);
        benchmark::DoNotOptimize(solution.volts.data());
        benchmark::ClobberMemory();
    }
    state.counters["per_point"] = benchmark::Counter(
        static_cast<double>(points), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

template <class Scalar>
void fold_ladder(benchmark::State& state) {
    const auto points = static_cast<std::size_t>(state.range(0));
    const auto tree = ladder<Scalar>(points);
    std::vector<Scalar> admittance;
    for (auto unused : state) {
        admittances(tree, admittance);
        benchmark::DoNotOptimize(admittance.data());
        benchmark::ClobberMemory();
    }
    state.counters["per_point"] = benchmark::Counter(
        static_cast<double>(points), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

BENCHMARK(solve_ladder<double>)->Name("solve/real")->Arg(10'000)->Arg(100'000)->Arg(1'000'000);
BENCHMARK(solve_ladder<Complex>)->Name("solve/complex")->Arg(10'000)->Arg(100'000)->Arg(1'000'000);
BENCHMARK(fold_ladder<double>)->Name("admittances/real")->Arg(10'000);
BENCHMARK(fold_ladder<Complex>)->Name("admittances/complex")->Arg(10'000);

// ---- the required figures -------------------------------------------------------------------------
// Processor time, here and of ngspice below: what others do on the machine does not count.
double own_seconds() {
    timespec time{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time);
    return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_nsec) * 1e-9;
}

template <class Call>
double least_seconds(int times, Call call) {
    double least = 1e300;
    for (int n = 0; n < times; ++n) {
        const double before = own_seconds();
        call();
        least = std::min(least, own_seconds() - before);
    }
    return least;
}

template <class Scalar>
double solve_seconds(std::size_t points) {
    const auto tree = ladder<Scalar>(points);
    LineSolution<Scalar> solution;
    return least_seconds(points > 100'000 ? 10 : 50, [&] {
        solve(tree, solution);
        benchmark::DoNotOptimize(solution.volts.data());
    });
}

void write_netlist(const std::filesystem::path& file, std::size_t points, bool is_complex) {
    const LadderParts parts(points);
    std::ofstream out(file);
    out.precision(17);
    out << "* uniform ladder\nVsource n0 0 DC 0 AC " << volts << "\n";
    for (std::size_t k = 1; k <= points; ++k) {
        out << "Rw" << k << " n" << k - 1 << " n" << k << " " << parts.run_ohm << "\n";
        out << "Rs" << k << " n" << k << " 0 " << parts.load_ohm << "\n";
        if (is_complex) out << "Cs" << k << " n" << k << " 0 " << parts.beside_farad << "\n";
    }
    out << ".control\nac lin 1 " << hz << " " << hz << "\nprint vr(n" << points << ")\nquit\n.endc\n.end\n";
}

// Of all programs started and ended so far.
double children_seconds() {
    rusage usage{};
    getrusage(RUSAGE_CHILDREN, &usage);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + static_cast<double>(time.tv_usec) * 1e-6;
    };
    return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

// Processor seconds of ngspice's whole run, least of three; ends the program where ngspice is missing.
double ngspice_seconds(std::size_t points, bool is_complex) {
    const auto file =
        std::filesystem::temp_directory_path() / ("tapwright_ladder_" + std::to_string(getpid()) + ".cir");
    write_netlist(file, points, is_complex);
    const std::string command = "ngspice -b '" + file.string() + "' >/dev/null 2>&1";
    int status = 0;
    double seconds = 1e300;
    for (int n = 0; n < 3; ++n) {
        const double before = children_seconds();
        status |= std::system(command.c_str());
        seconds = std::min(seconds, children_seconds() - before);
    }
    std::filesystem::remove(file);
    if (status != 0) {
        std::fprintf(stderr, "ngspice is missing or failed: install the Debian package ngspice.\n");
        std::exit(2);
    }
    return seconds;
}

bool report(const char* what, double value, const char* unit, double limit, bool at_most) {
    const bool met = at_most ? value <= limit : value >= limit;
    std::printf("%-48s %10.1f %-6s (%s %.0f) %s\n", what, value, unit, at_most ? "at most" : "at least", limit,
                met ? "met" : "MISSED");
    return met;
}

template <class Scalar>
bool report_all(const char* kind, double ns_limit, double ratio_limit, bool is_complex) {
    const std::string name = kind;
    const double ten_thousand = solve_seconds<Scalar>(10'000);
    const double million = solve_seconds<Scalar>(1'000'000);
    bool met = report((name + ": 10,000 points, a point").c_str(), ten_thousand / 10'000 * 1e9, "ns", ns_limit, true);
    met &= report((name + ": a million, a point").c_str(), million / 1e6 * 1e9, "ns", ten_thousand / 10'000 * 1e9 * 3,
                  true);
    const double simulator = ngspice_seconds(10'000, is_complex);
    met &= report((name + ": 10,000 points, times faster than ngspice").c_str(), simulator / ten_thousand, "x",
                  ratio_limit, false);
    std::printf("  (%.3f ms against %.0f ms)\n", ten_thousand * 1e3, simulator * 1e3);
    return met;
}

}  // namespace

}  // namespace tapwright

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    const bool real = tapwright::report_all<double>("real", 15, 500, false);
    const bool complex = tapwright::report_all<std::complex<double>>("complex", 50, 300, true);
    return real && complex ? 0 : 1;
}
