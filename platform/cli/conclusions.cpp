#include "platform/cli/conclusions.h"

#include <algorithm>
#include <string_view>
#include <unordered_map>

#include "core/findings/against_limit.h"
#include "core/words/faults_text.h"
#include "core/words/readings_text.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

Value whole(std::uint32_t number) {
    return static_cast<double>(number);
}

List ids_of(const Job& job, const std::vector<std::uint32_t>& points) {
    List ids;
    for (const std::uint32_t point : points) ids.emplace_back(job.all<Point>()[point].id.text());
    return ids;
}

Value shown_json(const Job& job, const Measurement& measurement, const ExpectedShown& shown) {
    if (!measurement.heard.empty()) return ids_of(job, shown.silent);
    switch (measurement.asked) {
        case Asked::heard:
            return Value(shown.is_silent ? "silent" : "ok");
        case Asked::tap_w:
            return shown.is_bypass ? Value("low_z") : shown.value > 0 ? Value(shown.value) : Value();
        default:
            return shown.is_open ? Value() : Value(shown.value);
    }
}

void add_positions(Map& map, const PositionsNoted& positions) {
    map.emplace_back("positions", Map{{"attenuators", whole(positions.attenuators)},
                                      {"noted", whole(positions.noted)},
                                      {"override_active", positions.override_active}});
}

void add_limit(Map& map, const ReadingLimit& limit) {
    if (limit.limit) map.emplace_back("limit_w", json_of(limit.limit));
    if (limit.over) map.emplace_back("over_w", json_of(limit.over));
    if (limit.min_ohm) {
        map.emplace_back("min_ohm", json_of(limit.min_ohm));
        map.emplace_back("below_min_ohm", limit.is_below_min_ohm);
    }
}

void add_baseline(Map& map, const Job& job, const Judgement& judgement) {
    if (const auto& baseline = judgement.baseline)
        map.emplace_back("baseline", Map{{"reading", job.all<Reading>()[baseline->reading].id.text()},
                                         {"drift_pct", json_of(baseline->drift)},
                                         {"allowed_pct", json_of(baseline->allowed)},
                                         {"same_conditions", baseline->same_conditions},
                                         {"rescaled", baseline->is_rescaled}});
    if (const auto& share = judgement.drift_share) {
        Map said{{"of_load_pct", json_of(share->of_load)}, {"gone", share->is_gone}};
        if (share->loudspeakers) said.emplace_back("speakers", whole(*share->loudspeakers));
        map.emplace_back("drift_share", std::move(said));
    }
}

void add_sight(Map& map, const Job& job, const Judgement& judgement) {
    if (const auto& sight = judgement.sight)
        map.emplace_back("sight", Map{{"one_open_moves_pct", json_of(sight->moves)},
                                      {"equal_taps", sight->is_equal},
                                      {"band_pct", json_of(sight->band)},
                                      {"band_shows", sight->band_shows},
                                      {"baseline_pct", json_of(sight->baseline)},
                                      {"baseline_shows", sight->baseline_shows},
                                      {"has_baseline", sight->has_baseline}});
    if (const auto& marks = judgement.hidden_marks)
        map.emplace_back("hidden_marks", Map{{"type", job.all<SpeakerType>()[marks->type].id.text()},
                                             {"marked_v", json_of(marks->marked)},
                                             {"line_v", json_of(marks->line)},
                                             {"drawn_ratio", marks->drawn_ratio}});
}

}  // namespace

Map measurement_json(const Job& job, const Measurement& measurement) {
    List expected;
    for (const ExpectedShown& shown : measurement.expected) {
        List causes;
        for (const std::uint32_t cause : shown.causes) causes.emplace_back(static_cast<double>(cause));
        expected.emplace_back(Map{{"causes", std::move(causes)}, {"value", shown_json(job, measurement, shown)}});
    }
    const bool is_by_meter = measurement.asked == Asked::ohms || measurement.asked == Asked::dc_ohms;
    Map map{{"at", measurement.at.text()},
            {"quantity", std::string(word(measurement.asked))},
            {"isolate", is_by_meter ? Value(measurement.at.text()) : Value()},
            {"expected", std::move(expected)},
            {"bits", measurement.bits},
            {"minutes", measurement.minutes},
            {"text", in_english(text_of(job, measurement))}};
    if (!measurement.heard.empty()) map.emplace_back("points", ids_of(job, measurement.heard));
    return map;
}

const std::vector<Measurement>& FaultAdvice::next_at(const Id& place) {
    const auto point = job_.place<Point>(place);
    const std::uint32_t zone = point ? derived_.points[*point].zone : nowhere;
    const Id line = zone == nowhere ? place : job_.all<Zone>()[zone].id;
    const auto [known, is_new] = known_.try_emplace(line.text());
    if (!is_new) return known->second;
    FaultQuestion question;
    question.zone = line;
    const Result<Diagnosis> diagnosis = Diagnosis::of(job_, derived_, question);
    if (!diagnosis) return known->second;
    NextMeasurement search(job_, *diagnosis, {});
    while (search.step()) {
    }
    return known->second = search.best();
}

bool any_to_seek(const Job& job, const Derived& derived) {
    const auto newest = newest_readings(job, derived);
    return std::any_of(newest.begin(), newest.end(),
                       [&](const auto& one) { return can_be_sought(job, derived, one.second); });
}

Map conclusions_json(const Job& job, const Derived& derived, std::uint32_t reading, FaultAdvice* advice) {
    const Judgement& judgement = derived.readings[reading];
    Map map{{"line_v", json_of(judgement.line_v)}, {"speakers", whole(judgement.speakers)},
            {"planned", whole(judgement.planned)}, {"without_tap", whole(judgement.without_tap)},
            {"valid", judgement.is_valid},         {"isolation", std::string(word(judgement.isolation))}};
    if (judgement.verdict == Verdict::not_judged) map.emplace_back("unjudged", std::string(word(judgement.unjudged)));
    if (judgement.expected_all) map.emplace_back("ohms_all", json_of(judgement.expected_all));
    if (judgement.expected_now) map.emplace_back("expected_now_ohms", json_of(judgement.expected_now));
    add_positions(map, judgement.positions);
    add_limit(map, judgement.against_limit);
    add_baseline(map, job, judgement);
    add_sight(map, job, judgement);
    if (!advice || !can_be_sought(job, derived, reading)) return map;
    if (const auto& next = advice->next_at(*job.all<Reading>()[reading].at); !next.empty())
        map.emplace_back("next", measurement_json(job, next.front()));
    return map;
}

List readings_json(const Job& job, const Derived& derived) {
    const auto readings = job.all<Reading>();
    const auto newest = newest_readings(job, derived);
    FaultAdvice advice(job, derived);
    List list;
    for (std::uint32_t i = 0; i < readings.size(); ++i) {
        const Judgement& judgement = derived.readings[i];
        if (judgement.verdict == Verdict::not_judged) continue;
        Map map{{"id", readings[i].id.text()},
                {"at", readings[i].at->text()},
                {"verdict", std::string(word(judgement.verdict))},
                {"limit", std::string(word(judgement.limit))},
                {"expected_ohms", json_of(judgement.expected)},
                {"measured_w", json_of(judgement.measured)}};
        for (auto& [key, value] :
             conclusions_json(job, derived, i, newest.at(readings[i].at->text()) == i ? &advice : nullptr))
            map.emplace_back(key, std::move(value));
        list.emplace_back(std::move(map));
    }
    return list;
}

Value against_limit_json(const Job& job, const Derived& derived, const Finding& finding) {
    const auto held = against_limit(job, derived, finding);
    if (!held) return {};
    Map map{{"load_w", json_of(held->load)},
            {"basis", std::string(word(held->basis))},
            {"limit_w", json_of(held->limit)},
            {"reserve_w", json_of(held->reserve)},
            {"unrecorded_w", json_of(held->unrecorded)}};
    if (held->over) map.emplace_back("over_w", json_of(held->over));
    if (held->into_reserve) map.emplace_back("into_reserve_w", json_of(held->into_reserve));
    return map;
}

}  // namespace tapwright::cli
