#include "tests/faults/family.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tapwright::test {
namespace {

constexpr double cables[] = {20.9, 13.2, 7.5};
constexpr double tap_sets[3][4] = {{1.25, 2.5, 5, 10}, {3.75, 7.5, 15, 30}, {0.75, 1.5, 3, 6}};

}  // namespace

struct Family::Healthy {
    double volts = 70.7;
    std::vector<int> feed;
    std::vector<std::size_t> cable;
    std::vector<double> length;
    std::vector<std::size_t> taps;
    std::vector<std::size_t> tap;
    int attenuator_before = -1;  // this loudspeaker hangs behind one
    double step = 0;             // as it really stands
    DenseLine line;              // node i + 1 is loudspeaker i; an attenuator's two nodes come last
    std::size_t input = 0;

    double tap_w(std::size_t i) const { return tap_sets[taps[i]][tap[i]]; }
};

std::size_t SimulatedLine::place_of(const Id& id) const {
    if (id == Id("z")) return 0;
    return id == Id("v") ? feed.size() + 1 : std::stoul(id.text().substr(1)) + 1;
}

bool SimulatedLine::is_silent(std::size_t speaker) const {
    for (const Truth& truth : truths) {
        if (truth.kind == FaultKind::dead && truth.at == speaker) return true;
        if (truth.kind == FaultKind::shorted) return true;
        if (truth.kind != FaultKind::broken) continue;
        for (int at = static_cast<int>(speaker); at >= 0; at = feed[static_cast<std::size_t>(at)])
            if (static_cast<std::size_t>(at) == truth.at) return true;
    }
    return false;
}

void Family::add_records(const Healthy& line, JobBuilder& job) const {
    job.info("line_v", line.volts);
    for (int set = 0; set < 3; ++set)
        job.add("speaker_type", "t" + std::to_string(set),
                {{"taps_w", List{tap_sets[set][0], tap_sets[set][1], tap_sets[set][2], tap_sets[set][3]}},
                 {"low_z_ohm", 8.0}});
    for (int i = 0; i < 3; ++i) job.add("cable_type", "c" + std::to_string(i), {{"ohm_per_km", cables[i]}});
    job.add("zone", "z", {{"emergency", "no"}});
    if (line.attenuator_before >= 0) {
        job.add(
            "attenuator_type", "at",
            {{"rated_w", 500.0}, {"steps_db", List{0.0, -3.0, -6.0, -9.0}}, {"insertion_db", 0.4}, {"has_off", true}});
    }
    for (std::size_t i = 0; i < line.feed.size(); ++i) {
        std::string feed = line.feed[i] < 0 ? "z" : SimulatedLine::label(static_cast<std::size_t>(line.feed[i]));
        if (line.attenuator_before == static_cast<int>(i)) {
            Map fields{{"kind", "attenuator"}, {"fed_from", feed}, {"type", "at"}, {"cable", "c0"}, {"length_m", 1.0}};
            if (options_.positions_noted) fields.emplace_back("knob_db", line.step);
            job.add("point", "v", fields);
            feed = "v";
        }
        job.add("point", SimulatedLine::label(i),
                {{"kind", "speaker"},
                 {"fed_from", feed},
                 {"type", "t" + std::to_string(line.taps[i])},
                 {"tap_w", line.tap_w(i)},
                 {"state", "tested"},
                 {"cable", "c" + std::to_string(line.cable[i])},
                 {"length_m", line.length[i]}});
    }
}

// Three to six loudspeakers a room, in the order they were drawn; what rooms are like is drawn apart from the line.
void Family::add_rooms(JobBuilder& job, std::uint64_t seed) const {
    std::mt19937_64 random(seed);
    const auto drawn = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int room = 0;
    for (std::size_t i = 0; i < options_.speakers; ++room) {
        const std::string id = "r" + std::to_string(room);
        Map fields{{"name", id},
                   {"order", room + 1.0},
                   {"height_m", drawn(0, 1) < 0.7 ? drawn(2.5, 3.2) : drawn(3.5, 6)},
                   {"ceiling", drawn(0, 1) < 0.6 ? "tile" : "plaster"}};
        if (drawn(0, 1) < 0.15) fields.emplace_back("access", "by arrangement");
        job.add("room", id, fields);
        const auto last = std::min(options_.speakers, i + 3 + static_cast<std::size_t>(drawn(0, 4)));
        for (; i < last; ++i) job.set("point", SimulatedLine::label(i), "room", id);
    }
}

void Family::add_attenuator(Healthy& line) {
    line.attenuator_before = static_cast<int>(1 + below(line.feed.size() - 1));
    line.step = -3.0 * static_cast<double>(below(3));
    DenseNode& behind = line.line.nodes[static_cast<std::size_t>(line.attenuator_before) + 1];
    line.input = line.line.nodes.size();
    DenseNode input;
    input.feed = behind.feed;
    input.run = 2 * 1.0 * cables[0] / 1000;
    DenseNode output;
    output.feed = static_cast<int>(line.input);
    output.is_output = true;
    output.network = autotransformer(Decibels(line.step), Decibels(0.4));
    behind.feed = static_cast<int>(line.input) + 1;
    line.line.nodes.push_back(input);
    line.line.nodes.push_back(output);
}

namespace {

void put_in(DenseLine& line, const Truth& truth, double volts, double tap_w) {
    DenseNode& node = line.nodes[truth.at + 1];
    switch (truth.kind) {
        case FaultKind::dead:
            node.load = 0;
            return;
        case FaultKind::broken:
            node.run = std::numeric_limits<double>::infinity();
            return;
        case FaultKind::tap:
            node.load *= truth.value / tap_w;
            return;
        case FaultKind::shorted:
            node.load = 1 / 0.5;
            return;
        case FaultKind::bypass:
            node.load = 1 / 8.0;
            return;
        case FaultKind::joint:
            node.run += truth.value;
            return;
        case FaultKind::leak:
            node.load += 1 / truth.value;
            return;
        case FaultKind::extra:
            node.load += truth.value / (volts * volts);
            return;
        default:
            return;
    }
}

double ohms_at(const DenseLine& line, std::size_t node) {
    return std::min(1 / std::max(line.siemens(node), 1e-9), SimulatedLine::range);
}

}  // namespace

// Whether it moves what is read at the zone by more than a twentieth.
bool Family::shows_alone(const Healthy& line, const Truth& truth) const {
    DenseLine faulty = line.line;
    put_in(faulty, truth, line.volts, line.tap_w(truth.at));
    return std::abs(std::log(faulty.siemens(0) / line.line.siemens(0))) > 0.05;
}

Truth Family::draw_truth(const Healthy& line) {
    struct Kind {
        FaultKind kind;
        double weight;
    };
    constexpr Kind kinds[] = {{FaultKind::dead, .35},    {FaultKind::broken, .20}, {FaultKind::tap, .15},
                              {FaultKind::shorted, .08}, {FaultKind::bypass, .05}, {FaultKind::joint, .07},
                              {FaultKind::leak, .05},    {FaultKind::extra, .05}};
    Truth truth;
    truth.at = below(line.feed.size());
    double left = uniform(0, 1);
    for (const Kind& kind : kinds) {
        truth.kind = kind.kind;
        left -= kind.weight;
        if (left < 0) break;
    }
    const auto one_of = [&](std::initializer_list<double> values) { return values.begin()[below(values.size())]; };
    if (truth.kind == FaultKind::tap) {
        std::size_t other = below(3);
        if (other >= line.tap[truth.at]) ++other;
        truth.value = tap_sets[line.taps[truth.at]][other];
    } else if (truth.kind == FaultKind::joint) {
        truth.value = one_of({10, 40, 160});
    } else if (truth.kind == FaultKind::leak) {
        truth.value = one_of({500, 2000});
    } else if (truth.kind == FaultKind::extra) {
        truth.value = one_of({5, 10, 20});
    }
    return truth;
}

void SimulatedLine::read_again(double stray) {
    DenseLine faulty = healthy;
    DenseLine faulty_copper = copper;
    for (const Truth& truth : truths) {
        put_in(faulty, truth, volts, recorded_tap[truth.at]);
        put_in(faulty_copper, truth, volts, recorded_tap[truth.at]);
    }
    std::normal_distribution<double> standard;
    const auto read = [&](std::size_t node) {
        const double ohms = ohms_at(faulty, node);
        const double off = std::hypot(meter, stray);
        return ohms >= range || !(off > 0) ? ohms : std::min(ohms * std::exp(off * standard(noise)), range);
    };
    seen.clear();
    for (std::size_t i = 0; i <= feed.size(); ++i) seen.push_back(read(i));
    if (input > 0) seen.push_back(read(input));
    dc_ohms = ohms_at(faulty_copper, 0);
    if (dc_ohms < range && meter > 0) dc_ohms *= std::exp(meter * standard(noise));
    tap = recorded_tap;
    for (const Truth& truth : truths) {
        if (truth.kind == FaultKind::tap) tap[truth.at] = truth.value;
        if (truth.kind == FaultKind::bypass) tap[truth.at] = 0;
    }
}

void SimulatedLine::put_right(std::size_t truth) {
    truths.erase(truths.begin() + static_cast<std::ptrdiff_t>(truth));
    read_again(0);
}

// Two dead, a dead one and a wrong tap, or three dead, each at another loudspeaker.
bool Family::draw_several(const Healthy& line, std::vector<Truth>& truths) {
    const bool ends_with_tap = options_.faults == 2 && uniform(0, 1) < 0.5;
    for (int i = 0; i < options_.faults; ++i) {
        const FaultKind wanted = i == 1 && ends_with_tap ? FaultKind::tap : FaultKind::dead;
        Truth truth;
        int tries = 0;
        do {
            if (++tries > 2000) return false;  // on this line none shows by itself
            truth = draw_truth(line);
        } while (truth.kind != wanted || (options_.each_shows && !shows_alone(line, truth)) ||
                 std::any_of(truths.begin(), truths.end(), [&](const Truth& other) { return other.at == truth.at; }));
        truths.push_back(truth);
    }
    return true;
}

SimulatedLine Family::draw() {
    SimulatedLine made;
    Healthy line;
    line.volts = below(2) == 0 ? 70.7 : 100.0;
    const double common = std::exp(normal(options_.common));
    for (std::size_t i = 0; i < options_.speakers; ++i) {
        const bool is_next = i == 0 || uniform(0, 1) < 0.75;
        line.feed.push_back(is_next ? static_cast<int>(i) - 1 : static_cast<int>(below(i + 1)) - 1);
        line.cable.push_back(below(3));
        line.length.push_back(uniform(2, 25));
        line.taps.push_back(below(3));
        line.tap.push_back(1 + below(3));
        DenseNode node;
        node.feed = line.feed.back() + 1;
        node.run = 2 * line.length.back() * cables[line.cable.back()] / 1000;
        node.load = line.tap_w(i) / (line.volts * line.volts) * common * std::exp(normal(options_.unit));
        line.line.nodes.push_back(node);
    }
    if (options_.attenuators) add_attenuator(line);
    made.feed = line.feed;
    made.healthy = line.line;
    made.copper = line.line;
    const double all_copper = std::exp(normal(0.5)) / 0.08;
    for (DenseNode& node : made.copper.nodes) node.load *= all_copper * std::exp(normal(0.3));
    made.input = line.input;
    made.step = line.step;
    made.volts = line.volts;
    made.meter = options_.meter;
    made.noise.seed(random_());
    for (std::size_t i = 0; i < options_.speakers; ++i) made.recorded_tap.push_back(line.tap_w(i));
    add_records(line, made.job);
    if (options_.rooms) add_rooms(made.job, made.noise());
    made.read_again(0);
    made.baseline = made.seen[0];
    do {
        made.truths.clear();
        if (options_.faults == 1)
            made.truths.push_back(draw_truth(line));
        else if (!draw_several(line, made.truths))
            return draw();
        made.read_again(options_.stray);
    } while (options_.faults > 0 && std::abs(std::log(made.seen[0] / made.baseline)) <= 0.05);
    made.job.read("base", "z", made.baseline, {{"baseline", true}});
    return made;
}

}  // namespace tapwright::test
