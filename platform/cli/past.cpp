// history, undo, redo: what was done, and taking it back.
#include <cstdlib>

#include "core/base/text.h"
#include "core/job/json.h"
#include "core/session/changes.h"
#include "core/words/words.h"
#include "platform/cli/command.h"
#include "platform/handover/handover.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

// Undo or redo: what it takes back or brings back, doing it, and what it says.
struct TakeBack {
    Result<Batch> (Session::*what)(const Author&) const;
    Result<Outcome> (Session::*act)(const Author&, const Stamp&);
    Message (*say)(const Session&, const Batch&, const Outcome&);
};

Result<int> take_back(const Call& call, const TakeBack& way) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    const Result<Author> author = author_for(call, *session);
    if (!author) return author.refusal();
    TAPWRIGHT_TAKE(batch, ((*session).*way.what)(*author));
    TAPWRIGHT_TAKE(outcome, ((*session).*way.act)(*author, make_stamp()));
    if (call.json()) {
        List remarks;
        for (const Message& remark : outcome.remarks) remarks.emplace_back(in_english(remark));
        print(pretty_json(Map{{"kept", true}, {"remarks", std::move(remarks)}}));
    } else {
        print(in_english(way.say(*session, batch, outcome)) + "\n");
    }
    return status_of(session->derived());
}

Value line_json(const HistoryLine& line) {
    List what;
    for (const Message& fact : line.what) what.emplace_back(in_english(fact));
    return Map{{"batch", line.address},
               {"time", line.time},
               {"person", line.person},
               {"visit", line.visit},
               {"undo", line.is_undo},
               {"undone", line.is_undone},
               {"facts", static_cast<double>(line.facts)},
               {"what", std::move(what)}};
}

void print_state_json(const States::Found& found, const std::string& time, const std::string& person,
                      const std::vector<ChangeLine>& changes) {
    List list;
    for (const ChangeLine& change : changes) {
        List what;
        for (const Message& part : change.what) what.emplace_back(in_english(part));
        list.push_back(Map{{"time", change.time}, {"person", change.person}, {"what", std::move(what)}});
    }
    print(pretty_json(Map{{"state", hex(found.state.hash)},
                          {"code", short_code(found.state.hash)},
                          {"position", static_cast<double>(found.state.position)},
                          {"time", time},
                          {"person", person},
                          {"changes", std::move(list)}}));
}

void print_state(const States::Found& found, const std::string& time, const std::string& person,
                 const std::vector<ChangeLine>& changes) {
    print("State " + short_code(found.state.hash) + ": after change " + std::to_string(found.state.position) +
          ", made " + time + " by " + (person.empty() ? "somebody" : cited(person)) + ".\n");
    if (changes.empty()) print("Nothing has changed since.\n");
    for (const ChangeLine& change : changes) {
        print(change.time + "  " + (change.person.empty() ? "somebody" : cited(change.person)) + "\n");
        for (const Message& part : change.what) print("    " + in_english(part) + "\n");
    }
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
        for (const Message& fact : line.what) print("    " + in_english(fact) + "\n");
        if (line.facts > line.what.size())
            print("    and " + std::to_string(line.facts - line.what.size()) + " more\n");
    }
    return fine;
}

namespace {

// The state somebody means by a sheet's content hash or code, or by the hash of its file.
Result<std::string> digits_for(const Session& session, const std::string& text) {
    const auto digits = state_digits(text);
    if (!digits)
        return Refusal{"--state " + cited(text, 80) +
                       " must be 8 to 64 hexadecimal digits, as the code or the content hash at the foot of a sheet."};
    for (const SheetRecord& record : session.job().all<SheetRecord>())
        if (record.sha256 && record.state && record.sha256->hex == *digits) return record.state->hex;
    return *digits;
}

}  // namespace

Result<int> find_state(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<std::string> digits = digits_for(*session, call.option("--state"));
    if (!digits) return digits.refusal();
    const Result<States> states = states_of(*session);
    if (!states) return states.refusal();
    const std::optional<States::Found> found = states->find(*digits);
    if (!found)
        return Refusal{
            "No state that " + call.arguments[0] + " went through has the code or hash " + cited(*digits, 64) +
            ". The sheet is of another job, or of changes that this copy does not hold; ask the copy it was made "
            "from."};
    std::string time;
    std::string person;
    const auto wanted = [&](const Batch& batch, std::size_t number) {
        if (number == found->latest) {
            time = batch.time;
            person = batch.person;
        }
        return !found->holds[number] && !states->is_record(number);
    };
    const Result<std::vector<ChangeLine>> changes = changes_of(*session, wanted);
    if (!changes) return changes.refusal();
    call.json() ? print_state_json(*found, time, person, *changes) : print_state(*found, time, person, *changes);
    return fine;
}

Result<int> undo_batch(const Call& call) {
    return take_back(call, {&Session::undoable, &Session::undo, undone});
}
Result<int> redo_batch(const Call& call) {
    return take_back(call, {&Session::redoable, &Session::redo, redone});
}

}  // namespace tapwright::cli
