// survey: how many loudspeakers of a type a room takes, where, on which tap. Nothing is written.
#include "core/plan/survey.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/words/survey_text.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"

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

}  // namespace

Result<int> survey_room(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(request, request_from(session->job(), call));
    TAPWRIGHT_TAKE(room, record_named(session->job(), call.arguments[1], {Kind::room}));
    TAPWRIGHT_TAKE(type, record_named(session->job(), call.arguments[2], {Kind::speaker_type}));
    const Result<Survey> made = survey(session->job(), session->derived(), room, type, request);
    if (!made) return made.refusal();
    print(call.json() ? pretty_json(survey_json(session->job(), *made))
                      : survey_for_people(call.words_for(session->job()), session->job(), *made));
    return fine;
}

}  // namespace tapwright::cli
