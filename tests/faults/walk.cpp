#include "tests/faults/walk.h"

#include <algorithm>

#include "core/base/ensure.h"

namespace tapwright::test {
namespace {

std::size_t speaker_of(const Id& id) {
    return std::stoul(id.text().substr(1));
}

// What a person finds who does what was advised.
void follow(const SimulatedLine& line, const Measurement& measurement, FaultQuestion& question) {
    if (measurement.asked == Asked::ohms) {
        question.with.push_back(reading_at(line, measurement.at));
    } else if (measurement.asked == Asked::dc_ohms) {
        question.with.push_back(reading_at(line, measurement.at, Measured::dc_ohms));
    } else if (!measurement.heard.empty()) {
        for (const std::uint32_t point : measurement.heard) {
            const Id& id = line.job.job().all<Point>()[point].id;
            question.heard.push_back({id, line.is_silent(speaker_of(id)) ? Heard::silent : Heard::ok});
        }
    } else if (measurement.asked == Asked::heard) {
        question.heard.push_back(
            {measurement.at, line.is_silent(speaker_of(measurement.at)) ? Heard::silent : Heard::ok});
    } else if (measurement.asked == Asked::tap_w) {
        question.taps.push_back({measurement.at, Watts(line.tap[speaker_of(measurement.at)])});
    }
}

bool is_read(const FaultQuestion& question, const Id& at) {
    return std::any_of(question.with.begin(), question.with.end(),
                       [&](const Reading& reading) { return reading.at == at; });
}

// Somebody who is there and finds nothing wrong reads into that place and into the one before it, and sees the tap.
void look_there(const SimulatedLine& line, std::size_t speaker, FaultQuestion& question) {
    for (const int there : {static_cast<int>(speaker), line.feed[speaker]}) {
        const Id at = there < 0 ? Id("z") : Id(SimulatedLine::label(static_cast<std::size_t>(there)));
        if (!is_read(question, at)) question.with.push_back(reading_at(line, at));
    }
    question.taps.push_back({Id(SimulatedLine::label(speaker)), Watts(line.tap[speaker])});
}

void conclude(const Job& job, const Diagnosis& diagnosis, Walk& walk) {
    const std::uint32_t place = diagnosis.likeliest_place();
    walk.chance = diagnosis.places()[place];
    walk.unexplained = diagnosis.unexplained();
    walk.place.reset();
    walk.named.clear();
    walk.is_none = false;
    const FaultLine& line = diagnosis.line();
    for (const Cause& cause : diagnosis.causes()) {
        if (cause.place != place) continue;
        walk.is_none = cause.faults.empty();
        for (const Fault& fault : cause.faults)
            if (!fault.points.empty() && line.wiring.points[fault.points.front()].kind == PointKind::speaker)
                walk.named.push_back(speaker_of(job.all<Point>()[fault.points.front()].id));
        if (cause.faults.size() == 1 && !walk.named.empty()) walk.place = walk.named.front();
        return;
    }
}

// Until one place is sure, nothing more is worth asking or too much was asked.
void follow_to_the_end(const SimulatedLine& line, const Derived& derived, const WalkOptions& options,
                       FaultQuestion& question, Walk& walk) {
    const Job& job = line.job;
    const bool asks_ohms = options.next.only == Asked::ohms;
    const std::size_t most = walk.measurements + (asks_ohms ? std::min(options.most, line.feed.size()) : 60);
    while (true) {
        const Result<Diagnosis> diagnosis = Diagnosis::of(job, derived, question);
        TAPWRIGHT_ENSURE(diagnosis.ok());
        conclude(job, *diagnosis, walk);
        if (diagnosis->is_sure() || walk.measurements >= most) return;
        NextMeasurement next(job, *diagnosis, options.next);
        while (next.step()) {
        }
        const std::vector<Measurement> best = next.best(1);
        if (best.empty()) return;
        follow(line, best.front(), question);
        walk.minutes += best.front().minutes;
        ++walk.measurements;
    }
}

FaultQuestion first_question(const SimulatedLine& line, const WalkOptions& options) {
    FaultQuestion question;
    question.zone = Id("z");
    question.spreads = options.spreads;
    question.weights = options.weights;
    question.with.push_back(reading_at(line, Id("z")));
    return question;
}

// Returns: how much was put right of what the walk names.
std::size_t put_right_there(SimulatedLine& line, const Walk& walk) {
    const std::size_t before = line.truths.size();
    for (const std::size_t speaker : walk.named)
        for (std::size_t i = 0; i < line.truths.size(); ++i)
            if (line.truths[i].at == speaker) {
                line.put_right(i);
                break;
            }
    return before - line.truths.size();
}

}  // namespace

Reading reading_at(const SimulatedLine& line, const Id& at, Measured quantity) {
    const std::size_t place = line.place_of(at);
    Reading reading;
    reading.at = at;
    reading.quantity = quantity;
    reading.isolated = true;
    if (quantity == Measured::dc_ohms) {
        reading.value = line.dc_ohms;
    } else if (line.is_over_range(place)) {
        reading.over_range = true;
        reading.range_ohm = Ohms(SimulatedLine::range);
    } else {
        reading.value = line.seen[place];
    }
    return reading;
}

bool is_near(const SimulatedLine& line, std::size_t a, std::size_t b) {
    return a == b || line.feed[a] == static_cast<int>(b) || line.feed[b] == static_cast<int>(a);
}

Walk walk_to_fault(const SimulatedLine& line, const WalkOptions& options) {
    FaultQuestion question = first_question(line, options);
    Walk walk;
    follow_to_the_end(line, derive(line.job), options, question, walk);
    return walk;
}

Repairs walk_and_repair(SimulatedLine line, const WalkOptions& options, std::size_t pardoned) {
    const Derived derived = derive(line.job);
    FaultQuestion question = first_question(line, options);
    Repairs repairs;
    Walk walk;
    while (true) {
        follow_to_the_end(line, derived, options, question, walk);
        repairs.measurements = walk.measurements;
        repairs.unexplained = walk.unexplained;
        repairs.chance = walk.chance;
        const bool names = !walk.named.empty() && walk.chance > walk.unexplained;
        if (!names) {
            repairs.end =
                walk.is_none && walk.chance > walk.unexplained ? RepairEnd::said_right : RepairEnd::said_unexplained;
            return repairs;
        }
        const std::size_t found = put_right_there(line, walk);
        repairs.found += found;
        if (line.truths.empty()) {
            repairs.is_at_once = repairs.found == found && repairs.misled == 0;
            repairs.end = RepairEnd::all_found;
            return repairs;
        }
        if (found > 0) {
            question = first_question(line, options);
            ++walk.measurements;
            continue;
        }
        repairs.end = RepairEnd::misled;
        if (repairs.misled++ >= pardoned) return repairs;
        for (const std::size_t speaker : walk.named) look_there(line, speaker, question);
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
