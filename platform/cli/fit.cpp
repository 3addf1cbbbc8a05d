// fit: tap settings that make room in a zone. Nothing is written.
#include "core/plan/fit.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"
#include "core/words/words.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_added = 1000;

// "TYPExN" or "TYPExN@W": the last x before the number parts them, because a type's id may hold one too.
Result<FitAddition> addition_from(const std::string& text) {
    const Refusal wrong{cited(text) +
                        " is no TYPExN or TYPExN@W; write for example t1x4 for four of type t1, or "
                        "t1x4@2.5 for four on 2.5 W."};
    const std::size_t at = text.rfind('@');
    const std::string counted_type = text.substr(0, at);
    const std::size_t x = counted_type.rfind('x');
    if (x == std::string::npos || x == 0) return wrong;
    const std::string count = counted_type.substr(x + 1);
    if (!Id::is_valid(counted_type.substr(0, x)) || count.empty() || count.size() > 6 ||
        !std::all_of(count.begin(), count.end(), [](char c) { return c >= '0' && c <= '9'; }))
        return wrong;
    FitAddition addition;
    addition.type = Id(counted_type.substr(0, x));
    addition.count = std::stoul(count);
    if (addition.count < 1 || addition.count > most_added)
        return Refusal{cited(text) + " asks for " + count + " loudspeakers; 1 to " + std::to_string(most_added) +
                       " can be added."};
    if (at == std::string::npos) return addition;
    const Result<Watts> tap = parse<Watts>(text.substr(at + 1));
    if (!tap) return Refusal{"The tap in " + cited(text) + ": " + in_english(tap.refusal())};
    addition.tap = *tap;
    return addition;
}

Result<FitRequest> request_from(const Call& call) {
    FitRequest request;
    if (!Id::is_valid(call.arguments[1]))
        return Refusal{cited(call.arguments[1]) + " is no id; `tapwright check FILE --json` shows those of the zones."};
    request.zone = Id(call.arguments[1]);
    // Several may stand behind one --add, each with one of its own, or parted by commas.
    std::vector<std::string> asked = call.all("--add");
    asked.insert(asked.end(), call.arguments.begin() + 2, call.arguments.end());
    for (const std::string& text : asked) {
        for (std::size_t start = 0; start <= text.size();) {
            const std::size_t end = std::min(text.find(',', start), text.size());
            const Result<FitAddition> addition = addition_from(text.substr(start, end - start));
            if (!addition) return addition.refusal();
            request.add.push_back(*addition);
            start = end + 1;
        }
    }
    for (FitAddition& addition : request.add) {
        for (const auto& [option, member] :
             {std::pair("--room", &FitAddition::room), std::pair("--from", &FitAddition::fed_from)}) {
            if (!call.has(option)) continue;
            if (!Id::is_valid(call.option(option)))
                return Refusal{std::string(option) + " " + cited(call.option(option)) + " is no id of the job."};
            addition.*member = Id(call.option(option));
        }
    }
    if (!call.has("--aim")) return request;
    const std::vector<Aim> aims = std::exchange(request.aims, {});
    for (const Aim aim : aims)
        if (word(aim) == call.option("--aim")) request.aims = {aim};
    if (request.aims.empty())
        return Refusal{"--aim " + cited(call.option("--aim")) + " is none of fewest, level and wanted."};
    return request;
}

Map fit_json(const Job& job, const FitRequest& request, const Fit& made) {
    if (made.missing) return Map{{"missing_w", json_of(made.missing)}, {"text", fit_text(job, request, made)}};
    List options;
    for (const FitOption& option : made.options) {
        List changes;
        for (const FitChange& change : option.changes)
            changes.emplace_back(
                Map{{"id", change.point.text()}, {"from_w", json_of(change.from)}, {"to_w", json_of(change.to)}});
        List added;
        for (const FitAdded& one : option.added)
            added.emplace_back(Map{{"type", request.add[one.addition].type.text()}, {"tap_w", json_of(one.tap)}});
        options.emplace_back(Map{{"aim", std::string(word(option.aim))},
                                 {"changes", std::move(changes)},
                                 {"added", std::move(added)},
                                 {"load_w", json_of(option.load)},
                                 {"headroom_w", json_of(option.headroom)},
                                 {"visits", static_cast<double>(option.visits)},
                                 {"worst_db", json_of(option.worst)}});
    }
    return Map{{"options", std::move(options)}, {"text", fit_text(job, request, made)}};
}

}  // namespace

Result<int> fit_zone(const Call& call) {
    const Result<FitRequest> request = request_from(call);
    if (!request) return request.refusal();
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<Fit> made = fit(session->job(), session->derived(), *request);
    if (!made) return made.refusal();
    print(call.json() ? pretty_json(fit_json(session->job(), *request, *made))
                      : fit_text(session->job(), *request, *made) + "\n");
    return fine;
}

}  // namespace tapwright::cli
