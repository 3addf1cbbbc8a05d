// survey: how many loudspeakers of a type a room takes, where, on which tap. Written is only what is asked for: the
// answer as planned points (--keep).
#include "core/plan/survey.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/words/survey_text.h"
#include "platform/cli/command.h"
#include "platform/cli/keeping.h"
#include "platform/cli/report.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

template <class Choice, std::size_t count>
Result<Choice> choice_from(const Call& call, const std::string& option, const std::array<Choice, count>& choices,
                           Choice otherwise) {
    if (!call.has(option)) return otherwise;
    std::vector<std::string_view> words;
    for (const Choice choice : choices) {
        if (word(choice) == call.option(option)) return choice;
        words.push_back(word(choice));
    }
    return none_of(option, call.option(option), words);
}

template <class Q>
Result<Q> figure_from(const Call& call, const std::string& option, Q most) {
    const Result<Q> figure = parse<Q>(call.option(option));
    if (!figure) return placed(code(option), figure.refusal());
    if (*figure < Q(0) || *figure > most)
        return placed(code(option), Refusal{Message("Give a level from 0 to {most}, not {given}.",
                                                    {{"most", most}, {"given", entered(cited(call.option(option)))}})});
    return *figure;
}

Result<SurveyRequest> request_from(const Job& job, const Call& call) {
    SurveyRequest request;
    TAPWRIGHT_TAKE(grid, choice_from(call, "--grid", grids, request.grid));
    request.grid = grid;
    TAPWRIGHT_TAKE(rule, choice_from(call, "--rule", layout_rules, request.rule));
    request.rule = rule;
    if (call.has("--wanted")) {
        TAPWRIGHT_TAKE(wanted, figure_from(call, "--wanted", SoundLevel(140)));
        request.wanted = wanted;
    }
    if (call.has("--margin")) {
        TAPWRIGHT_TAKE(margin, figure_from(call, "--margin", Decibels(60)));
        request.margin = margin;
    }
    if (call.has("--zone")) {
        TAPWRIGHT_TAKE(zone, zone_of_option(job, call));
        request.zone = zone;
    }
    return request;
}

Map survey_json(const Job& job, const Survey& made) {
    List layouts;
    for (const SurveyLayout& layout : made.layouts)
        layouts.emplace_back(Map{{"grid", std::string(word(layout.grid))},
                                 {"rule", std::string(word(layout.rule))},
                                 {"spacing_m", json_of(layout.spacing)},
                                 {"count", layout.count},
                                 {"uncovered_pct", layout.uncovered ? Value(*layout.uncovered * 100) : Value()}});
    List taps;
    for (const SurveyTap& tap : made.taps)
        taps.emplace_back(
            Map{{"tap_w", json_of(tap.tap)}, {"one_db", json_of(tap.one)}, {"room_db", json_of(tap.room)}});
    return Map{{"diameter_m", json_of(made.diameter)},
               {"layouts", std::move(layouts)},
               {"taps", std::move(taps)},
               {"tap_w", made.tap ? json_of(made.taps[*made.tap].tap) : Value()},
               {"watts", json_of(made.watts)},
               {"over_db", json_of(made.over)},
               {"uncovered_pct", made.gaps.share * 100},
               {"beyond_m", json_of(made.gaps.beyond)},
               {"closest_zone", made.closest ? Value(made.closest->zone.text()) : Value()},
               {"short_w", made.closest ? json_of(made.closest->short_by) : Value()},
               {"text", survey_text(job, made)}};
}

std::string survey_for_people(const Words& words, const Job& job, const Survey& made) {
    const Statement statement = statement_of(job, made);
    std::vector<Row> layouts{{in_context("column", "layout"), in_context("column", "circles"),
                              in_context("column", "apart"), in_context("column", "loudspeakers")}};
    for (const SurveyLayout& layout : made.layouts)
        layouts.push_back({Message(as_argument(layout.grid)), Message(as_argument(layout.rule)),
                           Message(layout.spacing), Message(Figure{layout.count, Unit::none})});
    std::vector<Row> taps{{in_context("column", "tap"), in_context("column", "one alone"),
                           in_context("column", "the room"), in_context("column", "all of them")}};
    for (const SurveyTap& tap : made.taps)
        taps.push_back(
            {Message(tap.tap), Message(tap.one), Message(tap.room),
             tap.allowed ? Message(tap.drawn * static_cast<double>(made.spots.size())) : Message("above max power")});
    return words.text(statement.text) + "\n" + words.text(statement.why) + "\n\n" + columns(words, layouts, 2) + "\n" +
           columns(words, taps, 1);
}

// The layout as planned loudspeakers of the room, one batch.
Result<std::vector<Id>> keep_points(const Call& call, Session& session, const Survey& made) {
    if (!made.tap)
        return Refusal{
            Message("No tap was chosen, so there is no plan to keep. Give the level wanted with {wanted}, or "
                    "choose another type.",
                    {{"wanted", code("--wanted")}})};
    IdMaker ids(make_stamp().seed);
    PlanRequest plan;
    plan.tap = made.taps[*made.tap].tap;
    plan.fed_from = zone_for(made);
    plan.new_id = [&] { return ids.make(Kind::point); };
    TAPWRIGHT_TAKE(points, planned_points(session.job(), made, plan));
    return keep_changes(call, session, points);
}

Message said_of(const Job& job, const Survey& made, std::size_t count) {
    const auto number = static_cast<std::int64_t>(count);
    if (const auto zone = zone_for(made))
        return plural("{count} planned loudspeaker kept, fed from {zone}.",
                      "{count} planned loudspeakers kept, one fed from the other, the first from {zone}.", number,
                      {{"zone", entered(name_of(job, *zone))}});
    return plural("{count} planned loudspeaker kept. Record what it is fed from.",
                  "{count} planned loudspeakers kept. Record what they are fed from.", number);
}

}  // namespace

Result<int> survey_room(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], access_for(call));
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(request, request_from(session->job(), call));
    TAPWRIGHT_TAKE(room, record_named(session->job(), call.arguments[1], {Kind::room}));
    TAPWRIGHT_TAKE(type, record_named(session->job(), call.arguments[2], {Kind::speaker_type}));
    const Result<Survey> made = survey(session->job(), session->derived(), room, type, request);
    if (!made) return made.refusal();
    Map json = survey_json(session->job(), *made);
    const Words words = call.words_for(session->job());
    std::string text = survey_for_people(words, session->job(), *made);
    if (call.has("--keep")) {
        TAPWRIGHT_TAKE(points, keep_points(call, *session, *made));
        List ids;
        for (const Id& id : points) ids.emplace_back(id.text());
        json.emplace_back("points", std::move(ids));
        text += "\n" + words.text(said_of(session->job(), *made, points.size())) + "\n";
    }
    print(call.json() ? pretty_json(json) : text);
    return fine;
}

}  // namespace tapwright::cli
