// history, undo, redo: what was done, and taking it back.
#include <cstdlib>

#include "core/base/text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

using TakeBack = Result<Outcome> (Session::*)(const Author&, const Stamp&);

Result<int> take_back(const Call& call, TakeBack which, std::string_view did) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    const Result<Author> author = author_for(call, call.arguments[0]);
    if (!author) return author.refusal();
    const Result<Outcome> outcome = ((*session).*which)(*author, make_stamp());
    if (!outcome) return outcome.refusal();
    if (call.json()) {
        List remarks;
        for (const std::string& remark : outcome->remarks) remarks.emplace_back(remark);
        print(pretty_json(Map{{"kept", true}, {"remarks", std::move(remarks)}}));
    } else {
        print(std::string(did) + "\n");
        for (const std::string& remark : outcome->remarks) print("Left as it is: " + remark + ".\n");
    }
    return status_of(session->derived());
}

Value line_json(const HistoryLine& line) {
    List what;
    for (const std::string& fact : line.what) what.emplace_back(fact);
    return Map{{"batch", line.address},
               {"time", line.time},
               {"person", line.person},
               {"visit", line.visit},
               {"undo", line.is_undo},
               {"undone", line.is_undone},
               {"facts", static_cast<double>(line.facts)},
               {"what", std::move(what)}};
}

}  // namespace

Result<int> show_history(const Call& call) {
    const long most = std::strtol(call.option("--most", "50").c_str(), nullptr, 10);
    if (most < 1 || most > 1000000)
        return Refusal{"--most " + cited(call.option("--most")) + " must be a whole number from 1 to 1000000."};
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<std::vector<HistoryLine>> lines =
        session->history(static_cast<std::size_t>(most), call.json() ? 1000 : 8);
    if (!lines) return lines.refusal();
    if (call.json()) {
        List list;
        for (const HistoryLine& line : *lines) list.push_back(line_json(line));
        print(pretty_json(Map{{"history", std::move(list)}}));
        return fine;
    }
    for (const HistoryLine& line : *lines) {
        print(line.time + "  " + (line.person.empty() ? "somebody" : cited(line.person)) +
              (line.is_undo ? "  (undo)" : "") + (line.is_undone ? "  (undone)" : "") + "\n");
        for (const std::string& fact : line.what) print("    " + fact + "\n");
        if (line.facts > line.what.size())
            print("    and " + std::to_string(line.facts - line.what.size()) + " more\n");
    }
    return fine;
}

Result<int> undo_batch(const Call& call) {
    return take_back(call, &Session::undo, "Undone.");
}
Result<int> redo_batch(const Call& call) {
    return take_back(call, &Session::redo, "Done again.");
}

}  // namespace tapwright::cli
