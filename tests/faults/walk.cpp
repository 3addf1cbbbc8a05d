#include "tests/faults/walk.h"

#include <algorithm>

#include "core/base/ensure.h"

namespace tapwright::test {
namespace {

Reading reading_at(const SimulatedLine& line, const Id& at) {
    const std::size_t place = line.place_of(at);
    Reading reading;
    reading.at = at;
    reading.quantity = Measured::ohms;
    reading.isolated = true;
    if (line.is_over_range(place)) {
        reading.over_range = true;
        reading.range_ohm = Ohms(SimulatedLine::range);
    } else {
        reading.value = line.seen[place];
    }
    return reading;
}

std::size_t speaker_of(const Id& id) {
    return std::stoul(id.text().substr(1));
}

// What a person finds who does what was advised.
void follow(const SimulatedLine& line, const Measurement& measurement, FaultQuestion& question) {
    if (measurement.asked == Asked::ohms) {
        question.with.push_back(reading_at(line, measurement.at));
    } else if (measurement.asked == Asked::heard) {
        question.heard.push_back(
            {measurement.at, line.is_silent(speaker_of(measurement.at)) ? Heard::silent : Heard::ok});
    } else if (measurement.asked == Asked::tap_w) {
        question.taps.push_back({measurement.at, Watts(line.tap[speaker_of(measurement.at)])});
    }
}

// Whether there is something to read where the fault is said to be; reads it.
bool look_there(const SimulatedLine& line, const Walk& walk, FaultQuestion& question) {
    for (const std::size_t speaker : walk.pair)
        for (const int there : {static_cast<int>(speaker), line.feed[speaker]}) {
            const Id at = there < 0 ? Id("z") : Id(SimulatedLine::label(static_cast<std::size_t>(there)));
            const bool is_read = std::any_of(question.with.begin(), question.with.end(),
                                             [&](const Reading& reading) { return reading.at == at; });
            if (is_read) continue;
            question.with.push_back(reading_at(line, at));
            return true;
        }
    return false;
}

void conclude(const Job& job, const Diagnosis& diagnosis, Walk& walk) {
    const std::uint32_t place = diagnosis.likeliest_place();
    walk.chance = diagnosis.places()[place];
    walk.unexplained = diagnosis.unexplained();
    const FaultLine& line = diagnosis.line();
    const auto speaker_at = [&](std::uint32_t point) { return speaker_of(job.all<Point>()[point].id); };
    for (const Cause& cause : diagnosis.causes()) {
        if (cause.place != place) continue;
        walk.is_none = cause.faults.empty();
        walk.is_pair = cause.faults.size() == 2;
        for (const Fault& fault : cause.faults)
            if (!fault.points.empty() && line.wiring.points[fault.points.front()].kind == PointKind::speaker)
                walk.pair.push_back(speaker_at(fault.points.front()));
        if (cause.faults.size() == 1 && !walk.pair.empty()) walk.place = walk.pair.front();
        return;
    }
}

}  // namespace

bool is_near(const SimulatedLine& line, std::size_t a, std::size_t b) {
    return a == b || line.feed[a] == static_cast<int>(b) || line.feed[b] == static_cast<int>(a);
}

Walk walk_to_fault(const SimulatedLine& line, const WalkOptions& options) {
    const Job& job = line.job;
    const Derived derived = derive(job);
    FaultQuestion question;
    question.zone = Id("z");
    question.spreads = options.spreads;
    question.with.push_back(reading_at(line, Id("z")));
    Walk walk;
    const std::size_t most = std::min(options.most, line.feed.size());
    while (true) {
        const Result<Diagnosis> diagnosis = Diagnosis::of(job, derived, question);
        TAPWRIGHT_ENSURE(diagnosis.ok());
        NextMeasurement next(job, *diagnosis, options.next);
        while (next.step()) {
        }
        const std::vector<Measurement> best = next.best(1);
        const bool asks_ohms = options.next.only == Asked::ohms;
        if (diagnosis->is_sure() || best.empty() || (asks_ohms ? walk.measurements >= most : walk.measurements >= 40)) {
            Walk there = walk;
            conclude(job, *diagnosis, there);
            if (!options.looks_there || !look_there(line, there, question)) return there;
            ++walk.measurements;
            continue;
        }
        follow(line, best.front(), question);
        walk.minutes += best.front().minutes;
        ++walk.measurements;
    }
}

void add_to(Tally& tally, const SimulatedLine& line, const Walk& walk) {
    const std::size_t truth = line.truths.front().at;
    const bool is_right = walk.place == truth;
    ++tally.lines;
    tally.measurements += static_cast<double>(walk.measurements);
    tally.right += is_right;
    tally.sure_and_wrong += walk.chance >= sure_chance && !(walk.place && is_near(line, *walk.place, truth));
    if (walk.chance >= 0.8 && walk.chance < sure_chance) {
        ++tally.in_80_to_90;
        tally.right_80_to_90 += is_right;
    }
}

Tally tally(const FamilyOptions& family, const WalkOptions& options, std::size_t lines, std::uint64_t seed) {
    Family drawn(family, seed);
    Tally tally;
    for (std::size_t i = 0; i < lines; ++i) {
        const SimulatedLine line = drawn.draw();
        add_to(tally, line, walk_to_fault(line, options));
    }
    return tally;
}

}  // namespace tapwright::test
