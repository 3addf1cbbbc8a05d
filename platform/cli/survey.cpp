// survey: how many loudspeakers of a type a room takes, where, on which tap. Nothing is written.
#include "core/plan/survey.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"
#include "core/words/words.h"

namespace tapwright::cli {
namespace {

template <class Choice, std::size_t count>
Result<Choice> choice_from(const Call& call, const std::string& option, const std::array<Choice, count>& choices,
                           Choice otherwise) {
    if (!call.has(option)) return otherwise;
    std::vector<std::string> words;
    for (const Choice choice : choices) {
        if (word(choice) == call.option(option)) return choice;
        words.emplace_back(word(choice));
    }
    return Refusal{option + " " + cited(call.option(option)) + " is none of " + list_in_words(words) + "."};
}

Result<SurveyRequest> request_from(const Call& call) {
    SurveyRequest request;
    const Result<Grid> pattern = choice_from(call, "--pattern", patterns, request.pattern);
    if (!pattern) return pattern.refusal();
    request.pattern = *pattern;
    const Result<Overlap> overlap = choice_from(call, "--overlap", overlaps, request.overlap);
    if (!overlap) return overlap.refusal();
    request.overlap = *overlap;
    if (call.has("--wanted")) {
        const Result<SoundLevel> wanted = parse<SoundLevel>(call.option("--wanted"));
        if (!wanted) return Refusal{"--wanted: " + in_english(wanted.refusal())};
        if (*wanted < SoundLevel(0) || *wanted > SoundLevel(140))
            return Refusal{"--wanted must be a level from 0 to 140 dB, not " + cited(call.option("--wanted")) + "."};
        request.wanted = *wanted;
    }
    if (call.has("--margin")) {
        const Result<Decibels> margin = parse<Decibels>(call.option("--margin"));
        if (!margin) return Refusal{"--margin: " + in_english(margin.refusal())};
        if (*margin < Decibels(0) || *margin > Decibels(60))
            return Refusal{"--margin must be from 0 to 60 dB over the noise, not " + cited(call.option("--margin")) +
                           "."};
        request.margin = *margin;
    }
    if (call.has("--zone")) {
        if (!Id::is_valid(call.option("--zone")))
            return Refusal{"--zone " + cited(call.option("--zone")) + " is no id; name a zone of the job by its id."};
        request.zone = Id(call.option("--zone"));
    }
    return request;
}

Map survey_json(const Job& job, const Survey& made) {
    List layouts;
    for (const SurveyLayout& layout : made.layouts)
        layouts.emplace_back(Map{{"pattern", std::string(word(layout.pattern))},
                                 {"overlap", std::string(word(layout.overlap))},
                                 {"spacing_m", json_of(layout.spacing)},
                                 {"count", layout.count}});
    List taps;
    for (const SurveyTap& tap : made.taps)
        taps.emplace_back(
            Map{{"tap_w", json_of(tap.tap)}, {"one_db", json_of(tap.one)}, {"room_db", json_of(tap.room)}});
    return Map{{"diameter_m", json_of(made.diameter)},
               {"layouts", std::move(layouts)},
               {"taps", std::move(taps)},
               {"tap_w", made.tap ? json_of(made.taps[*made.tap].tap) : Value()},
               {"watts", json_of(made.watts)},
               {"text", survey_text(job, made)}};
}

std::string survey_for_people(const Job& job, const Survey& made) {
    std::string text = survey_text(job, made) + "\n\n";
    const LengthUnits units = length_units(job);
    std::vector<std::vector<std::string>> rows{{"layout", "overlap", "apart", "loudspeakers"}};
    for (const SurveyLayout& layout : made.layouts)
        rows.push_back({std::string(word(layout.pattern)), std::string(word(layout.overlap)),
                        show(layout.spacing, units), shortest(layout.count)});
    text += columns(rows, 2) + "\n";
    rows = {{"tap", "one alone", "the room", "all of them"}};
    for (const SurveyTap& tap : made.taps)
        rows.push_back({show(tap.tap), show(tap.one), show(tap.room),
                        tap.allowed ? show(tap.drawn * static_cast<double>(made.spots.size())) : "not allowed"});
    return text + columns(rows, 1);
}

}  // namespace

Result<int> survey_room(const Call& call) {
    const Result<SurveyRequest> request = request_from(call);
    if (!request) return request.refusal();
    for (const std::string& id : std::span(call.arguments).subspan(1))
        if (!Id::is_valid(id))
            return Refusal{cited(id) + " is no id; `tapwright export FILE OUT.json` shows those of rooms and types."};
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<Survey> made =
        survey(session->job(), session->derived(), Id(call.arguments[1]), Id(call.arguments[2]), *request);
    if (!made) return made.refusal();
    print(call.json() ? pretty_json(survey_json(session->job(), *made)) : survey_for_people(session->job(), *made));
    return fine;
}

}  // namespace tapwright::cli
