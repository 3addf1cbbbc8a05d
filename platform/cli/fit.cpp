// fit: tap settings that make room in a zone. Written is only what is asked for: an option as a trial (--keep).
#include "core/plan/fit.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/calc/emergency.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/words/cautions.h"
#include "core/words/fit_text.h"
#include "platform/cli/command.h"
#include "platform/cli/keeping.h"
#include "platform/cli/report.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_added = 1000;

// "TYPExN" or "TYPExN@W": the last x before the number parts them, because a type's id may hold one too.
Result<FitAddition> addition_from(const std::string& text, const Job& job) {
    const Refusal wrong{
        Message("\"{text}\" is not TYPExN or TYPExN@W. Write {four} for four of type t1, or {on_tap} for "
                "four on 2.5 W.",
                {{"text", entered(cited(text))}, {"four", code("t1x4")}, {"on_tap", code("t1x4@2.5")}})};
    const std::size_t at = text.rfind('@');
    const std::string counted_type = text.substr(0, at);
    const std::size_t x = counted_type.rfind('x');
    if (x == std::string::npos || x == 0) return wrong;
    const std::string count = counted_type.substr(x + 1);
    if (count.empty() || count.size() > 6 ||
        !std::all_of(count.begin(), count.end(), [](char c) { return c >= '0' && c <= '9'; }))
        return wrong;
    FitAddition addition;
    TAPWRIGHT_TAKE(type, record_named(job, counted_type.substr(0, x), {Kind::speaker_type}));
    addition.type = type;
    addition.count = std::stoul(count);
    if (addition.count < 1 || addition.count > most_added)
        return Refusal{Message("\"{text}\" asks for {count} loudspeakers. Ask for 1 to {most}.",
                               {{"text", entered(cited(text))}, {"count", addition.count}, {"most", most_added}})};
    if (at == std::string::npos) return addition;
    const Result<Watts> tap = parse<Watts>(text.substr(at + 1));
    if (!tap)
        return Refusal{
            Message("The tap in \"{text}\": {why}", {{"text", entered(cited(text))}, {"why", tap.refusal().message}})};
    addition.tap = *tap;
    return addition;
}

Result<FitRequest> request_from(const Call& call, const Job& job) {
    FitRequest request;
    TAPWRIGHT_TAKE(zone, record_named(job, call.arguments[1], {Kind::zone}));
    request.zone = zone;
    // Several may stand behind one --add, each with one of its own, or parted by commas.
    std::vector<std::string> asked = call.all("--add");
    asked.insert(asked.end(), call.arguments.begin() + 2, call.arguments.end());
    for (const std::string& text : asked) {
        for (std::size_t start = 0; start <= text.size();) {
            const std::size_t end = std::min(text.find(',', start), text.size());
            const Result<FitAddition> addition = addition_from(text.substr(start, end - start), job);
            if (!addition) return addition.refusal();
            request.add.push_back(*addition);
            start = end + 1;
        }
    }
    for (FitAddition& addition : request.add) {
        for (const auto& [option, member] :
             {std::pair("--room", &FitAddition::room), std::pair("--from", &FitAddition::fed_from)}) {
            if (!call.has(option)) continue;
            const Result<Id> named = record_named(job, call.option(option), {Kind::room, Kind::zone, Kind::point});
            if (!named) return placed(code(option), named.refusal());
            addition.*member = *named;
        }
    }
    if (!call.has("--aim")) return request;
    const std::vector<Aim> aims = std::exchange(request.aims, {});
    for (const Aim aim : aims)
        if (word(aim) == call.option("--aim")) request.aims = {aim};
    if (request.aims.empty()) return none_of("--aim", call.option("--aim"), {"fewest", "level", "wanted"});
    return request;
}

Result<void> take_left(const Call& call, const Job& job, FitRequest& request) {
    for (const std::string& text : call.all("--leave")) {
        const Result<Id> point = record_named(job, text, {Kind::point});
        if (!point) return placed(code("--leave"), point.refusal());
        if (std::find(request.leave.begin(), request.leave.end(), *point) == request.leave.end())
            request.leave.push_back(*point);
    }
    return done();
}

Map change_json(const Job& job, const FitChange& change) {
    const Point& point = *job.find<Point>(change.point);
    Map map{{"id", change.point.text()}, {"from_w", json_of(change.from)}, {"to_w", json_of(change.to)}};
    if (point.planned_tap_w) map.emplace_back("planned_w", json_of(point.planned_tap_w));
    if (point.notes) map.emplace_back("notes", *point.notes);
    return map;
}

Map misfit_json(const Job& job, const FitRequest& request, const Fit& made) {
    Map map{{"missing_w", json_of(made.missing)}, {"missing_at", json_of(made.missing_at)}};
    if (made.offer)
        map.emplace_back("would_fit", Map{{"type", request.add[made.offer->addition].type.text()},
                                          {"count", static_cast<double>(made.offer->count)},
                                          {"tap_w", json_of(made.offer->tap)}});
    map.emplace_back("text", fit_text(job, request, made));
    return map;
}

Map fit_json(const Job& job, const FitRequest& request, const Fit& made) {
    if (made.missing) return misfit_json(job, request, made);
    List options;
    for (const FitOption& option : made.options) {
        List changes;
        for (const FitChange& change : option.changes) changes.emplace_back(change_json(job, change));
        List added;
        for (const FitAdded& one : option.added)
            added.emplace_back(Map{{"type", request.add[one.addition].type.text()}, {"tap_w", json_of(one.tap)}});
        options.emplace_back(Map{{"aim", std::string(word(option.aim))},
                                 {"changes", std::move(changes)},
                                 {"added", std::move(added)},
                                 {"proven", option.is_proven},
                                 {"load_w", json_of(option.load)},
                                 {"unrecorded_w", json_of(option.unrecorded)},
                                 {"headroom_w", json_of(option.headroom)},
                                 {"visits", static_cast<double>(option.visits)},
                                 {"worst_db", json_of(option.worst)},
                                 {"worst_at", json_of(option.worst_at)},
                                 {"out_of_reach", option.is_out_of_reach}});
    }
    return Map{{"options", std::move(options)}, {"text", fit_text(job, request, made)}};
}

// What was there before may belong to the fire alarm; somebody has to look before anything is added.
std::vector<Caution> cautions_about(const Session& session, const Id& zone) {
    if (!must_ask_before_adding(session.job(), session.derived(), zone)) return {};
    std::vector<Caution> cautions = {{"could_be_emergency", emergency_question(), Message()}};
    for (Caution& caution : cautions_for(CautionMoment::existing_system, session.job(), session.derived(), zone))
        if (caution.code == "leave_it") cautions.push_back(std::move(caution));
    cautions.front().source = cautions.back().source;
    return cautions;
}

List cautions_json(const std::vector<Caution>& cautions) {
    List list;
    for (const Caution& caution : cautions)
        list.emplace_back(Map{{"code", std::string(caution.code)},
                              {"text", in_english(caution.text)},
                              {"source", in_english(caution.source)}});
    return list;
}

}  // namespace

Result<int> fit_zone(const Call& call) {
    if (call.has("--keep") && !call.has("--aim"))
        return Refusal{Message("{keep} needs to know which of the options to keep: give {aim} too.",
                               {{"keep", code("--keep")}, {"aim", code("--aim fewest|level|wanted")}})};
    Result<Session> session = Session::open(call.arguments[0], access_for(call));
    if (!session) return session.refusal();
    Result<FitRequest> request = request_from(call, session->job());
    if (!request) return request.refusal();
    if (const Result<void> left = take_left(call, session->job(), *request); !left) return left.refusal();
    const Result<Fit> made = fit(session->job(), session->derived(), *request);
    if (!made) return made.refusal();
    const std::vector<Caution> cautions = cautions_about(*session, request->zone);
    const Statement statement = statement_of(session->job(), *request, *made);
    Map json = fit_json(session->job(), *request, *made);
    std::optional<Id> kept;
    if (call.has("--keep")) {
        if (made->options.empty()) return Refusal{statement.text};
        IdMaker ids(make_stamp().seed);
        const ChangeList changes =
            changes_of(session->job(), *request, made->options.front(), [&] { return ids.make(Kind::point); });
        if (changes.empty()) return Refusal{Message("Nothing has to change, so there is no trial to keep.")};
        TAPWRIGHT_TAKE(trial, keep_trial(call, *session, changes));
        kept = trial;
        json.emplace_back("trial", kept->text());
    }
    if (call.json()) {
        if (!cautions.empty()) json.emplace_back("cautions", cautions_json(cautions));
        print(pretty_json(json));
        return fine;
    }
    const Words words = call.words_for(session->job());
    if (!cautions.empty()) print_line(words, in_one(cautions).text);
    for (const Message& paragraph : paragraphs_of(session->job(), *request, *made)) print_line(words, paragraph);
    if (!statement.why.empty()) print_line(words, statement.why);
    if (kept) say_trial_kept(call, words, *kept);
    return fine;
}

}  // namespace tapwright::cli
