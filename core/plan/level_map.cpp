#include "core/plan/level_map.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>
#include <numbers>

#include "core/base/ensure.h"

namespace tapwright {
namespace {

constexpr double most_terms = 1.2e6;
constexpr double finest_cell = 1.0 / 3;

double energy_of(SoundLevel level) {
    return std::pow(10.0, level.value() / 10);
}
// Far outside a narrow cone the model leaves nothing at all: below this, silence is silence.
constexpr double least_energy = 1e-20;
SoundLevel level_of(double energy) {
    return SoundLevel(10 * std::log10(std::max(energy, least_energy)));
}

// The same bits. Not std::bit_cast: the library of emscripten 3.1.6 has none.
template <class To, class From>
To as(From from) {
    static_assert(sizeof(To) == sizeof(From));
    To to;
    std::memcpy(&to, &from, sizeof to);
    return to;
}

// x^-power for one power and many x from 1 up, to some nine digits: a table holds it for the middle of each 256th part
// of an octave, and the first terms of the binomial series do the rest. A tenth of the time of std::pow.
class InversePower {
public:
    // `greatest`: of the x asked for; 0: no table.
    InversePower(double power, double greatest) : power_(power), first_(slot_of(1)) {
        if (power > most_power) return;
        for (std::uint64_t slot = first_; slot <= slot_of(greatest); ++slot) {
            const double middle = as<double>((slot << shift) + (std::uint64_t{1} << (shift - 1)));
            nodes_.push_back({1 / middle, std::pow(middle, -power)});
        }
    }

    double operator()(double x) const {
        if (nodes_.empty()) return std::pow(x, -power_);
        const Node& node = nodes_[static_cast<std::size_t>(slot_of(x) - first_)];
        const double p = power_;
        const double e = x * node.inverse - 1;  // at most 2^-9
        return node.power * (1 - e * p * (1 - e * (p + 1) / 2 * (1 - e * (p + 2) / 3 * (1 - e * (p + 3) / 4))));
    }

private:
    struct Node {
        double inverse, power;
    };
    static constexpr double most_power = 16;  // a narrower beam (34 degrees) would need more terms
    static constexpr int shift = 52 - 8;      // exponent and the first eight bits of the fraction
    static std::uint64_t slot_of(double x) { return as<std::uint64_t>(x) >> shift; }

    double power_;
    std::uint64_t first_;
    std::vector<Node> nodes_;
};

// A source with what does not depend on the spot worked out: energy = on_axis * (1 + d^2/drop^2)^-(n + 1), because
// both 1/r^2 and cos^2n are powers of drop/r.
struct Beam {
    double x, y, inverse_drop2, on_axis;
    std::size_t power;  // its place in Beams::powers
};

struct Beams {
    std::vector<Beam> all;
    std::vector<InversePower> powers;  // one for each exponent that occurs
};

// `reach`: the farthest any spot asked for lies from a source, along the floor; nothing where so few are asked for that
// a table does not pay.
Beams beams_of(std::span<const Source> sources, std::optional<double> reach) {
    Beams beams;
    beams.all.reserve(sources.size());
    double largest = 0;
    for (const Source& source : sources) {
        TAPWRIGHT_ENSURE(source.drop > Metres(0));
        const double inverse = 1 / (source.drop.value() * source.drop.value());
        largest = std::max(largest, inverse);
        beams.all.push_back(
            {source.at.x.value(), source.at.y.value(), inverse, energy_of(source.one_metre) * inverse, 0});
    }
    std::vector<double> known;
    for (std::size_t i = 0; i < sources.size(); ++i) {
        const double power = sources[i].exponent + 1;
        const auto at = std::find(known.begin(), known.end(), power);
        beams.all[i].power = static_cast<std::size_t>(at - known.begin());
        if (at != known.end()) continue;
        known.push_back(power);
        beams.powers.emplace_back(power, reach ? (1 + *reach * *reach * largest) * (1 + 1e-9) : 0);
    }
    return beams;
}

// The farthest any source lies from any corner of `floor`.
double reach_of(std::span<const Source> sources, double length, double width) {
    double reach = 0;
    for (const Source& source : sources) {
        const double x = source.at.x.value();
        const double y = source.at.y.value();
        reach = std::max(
            reach, std::hypot(std::max(std::abs(x), std::abs(length - x)), std::max(std::abs(y), std::abs(width - y))));
    }
    return reach;
}

double energy_at(const Beams& beams, double x, double y) {
    double energy = 0;
    for (const Beam& beam : beams.all) {
        const double dx = x - beam.x;
        const double dy = y - beam.y;
        energy += beam.on_axis * beams.powers[beam.power](1 + (dx * dx + dy * dy) * beam.inverse_drop2);
    }
    return energy;
}

std::size_t cells_along(Metres side, double most) {
    const double wanted = std::ceil(side.value() / finest_cell);
    return static_cast<std::size_t>(std::clamp(wanted, 12.0, std::max(12.0, std::floor(most))));
}

Message key_of(int step, double loudest) {
    constexpr auto width = static_cast<double>(level_step_db);
    const double from = loudest - width * step;
    if (step + 1 == level_steps) return Message("below {level}", {{"level", Figure{from, Unit::sound_level, 0}}});
    return Message("{from} to {to}",
                   {{"from", Figure{from, Unit::none, 0}}, {"to", Figure{from - width, Unit::sound_level, 0}}});
}

}  // namespace

SoundLevel level_on_axis(SoundLevel sensitivity, Watts watts, Metres distance) {
    TAPWRIGHT_ENSURE(watts > Watts(0) && distance > Metres(0));
    return sensitivity + decibels_of_power(watts.value()) - Decibels(20 * std::log10(distance.value()));
}

SoundLevel energy_sum(std::span<const SoundLevel> levels) {
    TAPWRIGHT_ENSURE(!levels.empty());
    double energy = 0;
    for (const SoundLevel level : levels) energy += energy_of(level);
    return level_of(energy);
}

double exponent_of(Degrees cone) {
    TAPWRIGHT_ENSURE(cone > Degrees(0) && cone < Degrees(180));
    // -6 dB is taken as half the pressure, as the trade means it.
    return std::log(0.5) / std::log(std::cos(cone.value() / 2 * std::numbers::pi / 180));
}

SoundLevel level_at(std::span<const Source> sources, const Spot& spot) {
    TAPWRIGHT_ENSURE(!sources.empty());
    return level_of(energy_at(beams_of(sources, std::nullopt), spot.x.value(), spot.y.value()));
}

LevelMap level_map(std::span<const Source> sources, const Floor& floor) {
    TAPWRIGHT_ENSURE(!sources.empty() && floor.length > Metres(0) && floor.width > Metres(0));
    const Beams beams = beams_of(sources, reach_of(sources, floor.length.value(), floor.width.value()));
    const double most_cells = most_terms / static_cast<double>(sources.size());
    LevelMap map;
    map.floor = floor;
    map.columns = cells_along(floor.length, std::sqrt(most_cells * (floor.length / floor.width)));
    map.rows = cells_along(floor.width, std::sqrt(most_cells * (floor.width / floor.length)));
    map.db.reserve(map.columns * map.rows);
    double sum = 0;
    double least = std::numeric_limits<double>::infinity();
    double greatest = 0;
    const auto meet = [&](double x, double y) {
        const double energy = energy_at(beams, x, y);
        least = std::min(least, energy);
        greatest = std::max(greatest, energy);
        return energy;
    };
    const double step_x = floor.length.value() / static_cast<double>(map.columns);
    const double step_y = floor.width.value() / static_cast<double>(map.rows);
    for (std::size_t row = 0; row < map.rows; ++row)
        for (std::size_t column = 0; column < map.columns; ++column) {
            const double energy =
                meet((static_cast<double>(column) + 0.5) * step_x, (static_cast<double>(row) + 0.5) * step_y);
            sum += energy;
            map.db.push_back(static_cast<float>(level_of(energy).value()));
        }
    for (const double x : {0.0, floor.length.value()})
        for (const double y : {0.0, floor.width.value()}) meet(x, y);
    for (const Beam& beam : beams.all)
        if (beam.x >= 0 && beam.x <= floor.length.value() && beam.y >= 0 && beam.y <= floor.width.value())
            meet(beam.x, beam.y);
    map.mean = level_of(sum / static_cast<double>(map.db.size()));
    map.least = level_of(least);
    map.greatest = level_of(greatest);
    return map;
}

LevelSteps steps_of(const LevelMap& map) {
    LevelSteps steps;
    const auto loudest = static_cast<float>(map.greatest.value());
    steps.cells.reserve(map.db.size());
    for (const float db : map.db) {
        const float steps_down = std::floor((loudest - db) / level_step_db);
        const int step = static_cast<int>(std::clamp(steps_down, 0.0F, static_cast<float>(level_steps - 1)));
        steps.cells.push_back(static_cast<std::uint8_t>(step));
        Message& words = steps.key[static_cast<std::size_t>(step)];
        if (words.empty()) words = key_of(step, static_cast<double>(loudest));
    }
    return steps;
}

Decibels spread_of_endless(Grid grid, Metres spacing, Metres drop, double exponent) {
    // Far rings fall off with the distance to the power of 2 (n + 1): what lies beyond 20 rings lifts all of the mesh
    // alike.
    constexpr int rings = 20;
    constexpr int steps = 12;
    const bool square = grid == Grid::square;
    const double between = square ? spacing.value() : spacing.value() * std::numbers::sqrt3 / 2;
    std::vector<Source> sources;
    for (int row = -rings; row <= rings; ++row)
        for (int i = -rings; i <= rings; ++i) {
            const double shift = square || row % 2 == 0 ? 0 : 0.5;
            sources.push_back({{spacing * (i + shift), Metres(row * between)}, drop, SoundLevel(0), exponent});
        }
    const Beams beams = beams_of(sources, reach_of(sources, spacing.value(), 2 * between));
    double least = std::numeric_limits<double>::infinity();
    double greatest = 0;
    // A quarter of the mesh mirrors into the rest; the steps meet its corners and, staggered, the far point at a third.
    for (int y = 0; y <= steps; ++y)
        for (int x = 0; x <= steps; ++x) {
            const double energy =
                energy_at(beams, spacing.value() / 2 * x / steps, (square ? between / 2 : between) * y / steps);
            least = std::min(least, energy);
            greatest = std::max(greatest, energy);
        }
    return decibels_of_power(greatest / std::max(least, greatest * least_energy));
}

}  // namespace tapwright
