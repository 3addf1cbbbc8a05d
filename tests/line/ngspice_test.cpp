// Fifty lines drawn at random, solved by ngspice from netlists of their physical parts: volts and ohms within 1e-6.
// Fails, never skips, where ngspice is missing. TAPWRIGHT_SEED=number redoes a run; every run prints its number.
#include <doctest/doctest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "core/line/conductor.h"
#include "tests/line/drawn_line.h"
#include "tests/line/nearness.h"
#include "tests/line/netlist.h"
#include "tests/line/run_program.h"

namespace tapwright {

namespace {

using Complex = std::complex<double>;
constexpr int how_many = 50;
constexpr double tolerance = 1e-6;

std::uint64_t start_value() {
    if (const char* given = std::getenv("TAPWRIGHT_SEED")) return std::strtoull(given, nullptr, 10);
    return std::random_device()();
}

// Draws with plain arithmetic on the engine, so that one number gives one line on every platform.
class Dice {
public:
    explicit Dice(std::uint64_t seed) : engine_(seed) {}
    double between(double low, double high) {
        return low + (high - low) * static_cast<double>(engine_() >> 11) * 0x1p-53;
    }
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(engine_() % count); }
    bool one_in(std::size_t count) { return below(count) == 0; }

private:
    std::mt19937_64 engine_;
};

// Every kind of cable the records know, at any temperature.
Ohms drawn_run(Dice& dice) {
    const Metres length(dice.one_in(8) ? 0 : dice.between(1, 80));
    OhmsPerKm conductor;
    switch (dice.below(4)) {
        case 0:
            conductor = *awg_resistance(10 + static_cast<int>(dice.below(15)), Strand::solid);
            break;
        case 1:
            conductor = *awg_resistance(10 + static_cast<int>(dice.below(15)), Strand::stranded);
            break;
        case 2: {
            const double areas[]{0.5, 0.75, 1, 1.5, 2.5, 4, 6};
            const int classes[]{1, 2, 5};
            conductor = *iec_resistance(SquareMm(areas[dice.below(7)]), classes[dice.below(3)]);
            break;
        }
        default:
            conductor = OhmsPerKm(dice.between(1, 90));
    }
    const Metal metal = dice.one_in(4) ? Metal::copper_clad_aluminium : Metal::copper;
    return pair_resistance(at_temperature(in_metal(conductor, metal), Celsius(dice.between(-10, 70))), length);
}

DrawnPoint drawn_point(Dice& dice, double volts) {
    const double taps[]{0.31, 0.63, 1.25, 2.5, 5, 7.5, 10, 15, 30};
    const double steps[]{0, -1.5, -3, -6, -9, -12, -18, -27};
    DrawnPoint point;
    point.hangs_on = static_cast<std::uint32_t>(dice.below(1'000'000));
    if (!dice.one_in(3)) point.hangs_on = 0xffffffff;  // most hang on the point before; see drawn()
    point.looped = dice.one_in(3);
    point.run_ohm = drawn_run(dice).value();
    if (dice.one_in(6)) {
        const DrawnKind kinds[]{DrawnKind::autotransformer, DrawnKind::l_pad, DrawnKind::autotransformer,
                                DrawnKind::l_pad, DrawnKind::off};
        point.kind = kinds[dice.below(5)];
        point.step_db = steps[dice.below(8)];
        point.insertion_db = dice.one_in(2) ? 0 : dice.between(0, 0.6);
        point.pad_ohm = dice.between(8, 2000);
    } else if (!dice.one_in(10)) {
        point.load_ohm = dice.one_in(20) ? 8 : volts * volts / taps[dice.below(9)];
    }
    return point;
}

DrawnLine drawn(Dice& dice) {
    const double voltages[]{25, 50, 70.7, 100};
    DrawnLine line;
    line.volts = voltages[dice.below(4)];
    line.hz = std::pow(10, dice.between(1.5, 4.2));
    if (dice.one_in(2)) {
        line.transformer = TransformerModel{.primary = Ohms(dice.between(0.01, 0.1)),
                                            .secondary = Ohms(dice.between(0.01, 0.1)),
                                            .leakage = Henries(dice.between(1e-6, 2e-5)),
                                            .magnetising = Henries(dice.between(5e-4, 5e-3))};
    }
    const std::size_t count = 1 + dice.below(60);
    for (std::size_t k = 0; k < count; ++k) {
        line.points.push_back(drawn_point(dice, line.volts));
        if (line.points.back().hangs_on == 0xffffffff) line.points.back().hangs_on = static_cast<std::uint32_t>(k);
    }
    return line;
}

// "name = 1.5e+00" lines, by name.
std::map<std::string, double> printed_values(const std::string& output) {
    std::map<std::string, double> values;
    std::istringstream lines(output);
    for (std::string line; std::getline(lines, line);) {
        const auto equals = line.find(" = ");
        if (equals == std::string::npos) continue;
        char* end = nullptr;
        const double value = std::strtod(line.c_str() + equals + 3, &end);
        if (end != line.c_str() + equals + 3) values[line.substr(0, equals)] = value;
    }
    return values;
}

Complex both(const std::map<std::string, double>& values, const std::string& of, const char* real, const char* imag) {
    CAPTURE(of);
    REQUIRE(values.contains(real + ("(" + of + ")")));
    return {values.at(real + ("(" + of + ")")), values.at(imag + ("(" + of + ")"))};
}

template <class Scalar>
void check_against(const DrawnLine& line, const std::map<std::string, double>& values) {
    const auto made = tree_of<Scalar>(line);
    const auto solution = solve(made.tree);
    for (std::size_t k = 0; k < line.points.size(); ++k) {
        CAPTURE(k);
        const Complex volts = both(values, input_node(k), "vr", "vi");
        const Complex amps = both(values, "i(" + ammeter(k) + ")", "real", "imag");
        CHECK(relative_error(Complex(solution.volts[made.in[k]]), volts) < tolerance);
        const Complex behind = both(values, output_node(line, k), "vr", "vi");
        CHECK(relative_error(Complex(solution.volts[made.out[k]]), behind) < tolerance);
        if (std::abs(volts) < 1e-12) continue;  // not fed: no current to measure ohms by
        const Complex seen = amps / volts;
        if (solution.admittance[made.in[k]] == Scalar(0)) {
            CHECK(std::abs(seen) < 1e-12);
        } else {
            CHECK(relative_error(1.0 / Complex(solution.admittance[made.in[k]]), 1.0 / seen) < tolerance);
        }
    }
    const double amps = std::abs(both(values, "i(vsource)", "real", "imag"));
    if (solution.lines[0].amps > 0) CHECK(relative_error(solution.lines[0].ohms, line.volts / amps) < tolerance);
}

}  // namespace

TEST_CASE("fifty random lines agree with ngspice") {
    const std::uint64_t seed = start_value();
    MESSAGE("TAPWRIGHT_SEED=" << seed);
    const auto folder = std::filesystem::temp_directory_path() / ("tapwright_line_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    std::map<DrawnKind, int> drawn_kinds;
    for (int n = 0; n < how_many; ++n) {
        CAPTURE(seed);
        CAPTURE(n);
        Dice dice(seed + static_cast<std::uint64_t>(n) * 0x9e3779b97f4a7c15);
        const DrawnLine line = drawn(dice);
        for (const DrawnPoint& point : line.points) ++drawn_kinds[point.kind];
        const auto file = folder / ("line_" + std::to_string(n) + ".cir");
        std::ofstream(file) << netlist_of(line);
        const ProgramRun run = run_program("ngspice -b '" + file.string() + "' 2>&1");
        REQUIRE_MESSAGE(run.status != 127, "ngspice is missing: install the Debian package ngspice");
        const auto values = printed_values(run.output);
        INFO(run.output.substr(0, 2000));
        REQUIRE(values.contains("real(i(vsource))"));
        if (!line.transformer) check_against<double>(line, values);
        check_against<Complex>(line, values);
    }
    CHECK(drawn_kinds.size() == 4);  // every kind was among them
    std::filesystem::remove_all(folder);
}

}  // namespace tapwright
