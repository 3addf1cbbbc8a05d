// history, undo, redo: what was done, and taking it back.
#include <cmath>

#include "core/base/blank.h"
#include "core/base/text.h"
#include "core/job/json.h"
#include "core/session/changes.h"
#include "core/units/parse.h"
#include "platform/cli/command.h"
#include "platform/handover/handover.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_facts = 8;

// Undo or redo: what it takes back or brings back, doing it, and what it says.
struct TakeBack {
    Result<Batch> (Session::*what)(const Author&) const;
    Result<Outcome> (Session::*act)(const Author&, const Stamp&);
    Result<Message> (*say)(const Session&, const Batch&, const Outcome&);
};

List texts_of(const std::vector<Message>& messages) {
    List list;
    for (const Message& message : messages) list.emplace_back(in_english(message));
    return list;
}

Result<int> take_back(const Call& call, const TakeBack& way) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(author, author_for(call, *session));
    TAPWRIGHT_TAKE(batch, ((*session).*way.what)(author));
    TAPWRIGHT_TAKE(outcome, ((*session).*way.act)(author, make_stamp()));
    if (call.json()) {
        print(pretty_json(Map{{"kept", true}, {"remarks", texts_of(outcome.remarks)}}));
    } else {
        TAPWRIGHT_TAKE(said, way.say(*session, batch, outcome));
        print_line(call.words_for(session->job()), said);
    }
    return status_of(session->derived());
}

Argument person_of(const std::string& person) {
    if (person.empty()) return Message("somebody");
    return entered(cited(person));
}

// "28 Nov 2026, 09:24 (+01:00)": where people are now, whatever zone it was kept in. What another program wrote there
// and is no time has no zone either.
Message local_moment(const std::string& time) {
    if (is_blank(time)) return Message("time unknown");
    if (!is_time(time)) return entered(cited(time));
    const std::string local = in_local_time(time);
    const bool has_offset = local.size() > 6 && (local[local.size() - 6] == '+' || local[local.size() - 6] == '-');
    return Message(
        "{time} ({zone})",
        {{"time", Moment{local}}, {"zone", code(has_offset ? local.substr(local.size() - 6) : std::string("UTC"))}});
}

Message head_of(const HistoryLine& line) {
    const std::vector<Named> named{{"time", local_moment(line.time)}, {"person", person_of(line.person)}};
    if (line.is_undo && line.is_undone) return Message(Pattern("{time}  {person}  (undo, undone)"), named);
    if (line.is_undo) return Message(Pattern("{time}  {person}  (undo)"), named);
    if (line.is_undone) return Message(Pattern("{time}  {person}  (undone)"), named);
    return Message(Pattern("{time}  {person}"), named);
}

void print_indented(const Words& words, const Message& fact) {
    print("    " + words.text(fact) + "\n");
}

Value line_json(const HistoryLine& line) {
    return Map{{"batch", line.address},
               {"time", line.time},
               {"person", line.person},
               {"visit", line.visit},
               {"undo", line.is_undo},
               {"undone", line.is_undone},
               {"facts", static_cast<double>(line.facts)},
               {"what", texts_of(line.what)}};
}

void print_state_json(const States::Found& found, const std::string& time, const std::string& person,
                      const std::vector<ChangeLine>& changes) {
    List list;
    for (const ChangeLine& change : changes) {
        list.push_back(Map{{"time", change.time}, {"person", change.person}, {"what", texts_of(change.what)}});
    }
    print(pretty_json(Map{{"state", hex(found.state.hash)},
                          {"code", short_code(found.state.hash)},
                          {"position", static_cast<double>(found.state.position)},
                          {"time", time},
                          {"person", person},
                          {"changes", std::move(list)}}));
}

void print_state(const Words& words, const States::Found& found, const std::string& time, const std::string& person,
                 const std::vector<ChangeLine>& changes) {
    print_line(words, Message("State {code}: after change {position}, made {time} by {person}.",
                              {{"code", code(short_code(found.state.hash))},
                               {"position", found.state.position},
                               {"time", Moment{time}},
                               {"person", person_of(person)}}));
    if (changes.empty()) print_line(words, Message("Nothing has changed since."));
    for (const ChangeLine& change : changes) {
        print_line(words, Message("{time}  {person}",
                                  {{"time", local_moment(change.time)}, {"person", person_of(change.person)}}));
        for (const Message& part : change.what) print_indented(words, part);
    }
}

}  // namespace

Result<int> show_history(const Call& call) {
    const Result<double> most = parse_number(call.option("--most", "50"), Unit::none);
    if (!most || *most < 1 || *most > 1000000 || *most != std::floor(*most))
        return placed(code("--most"), Refusal{Message("Give a whole number from 1 to 1000000, not \"{given}\".",
                                                      {{"given", entered(cited(call.option("--most")))}})});
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<std::vector<HistoryLine>> lines =
        session->history(static_cast<std::size_t>(*most), call.json() ? 1000 : most_facts);
    if (!lines) return lines.refusal();
    if (call.json()) {
        List list;
        for (const HistoryLine& line : *lines) list.push_back(line_json(line));
        print(pretty_json(Map{{"history", std::move(list)}}));
        return fine;
    }
    const Words words = call.words_for(session->job());
    for (const HistoryLine& line : *lines) {
        print_line(words, head_of(line));
        for (const Message& fact : line.what) print_indented(words, fact);
        if (line.facts > line.what.size())
            print_indented(words, plural("and {count} more", "and {count} more",
                                         static_cast<std::int64_t>(line.facts - line.what.size())));
    }
    return fine;
}

namespace {

// The state somebody means by a sheet's content hash or code, or by the hash of its file.
Result<std::string> digits_for(const Session& session, const std::string& text) {
    const auto digits = state_digits(text);
    if (!digits)
        return placed(
            code("--state"),
            Refusal{Message("Give 8 to 64 hexadecimal digits, as the code or the content hash at the foot of a "
                            "sheet, not \"{given}\".",
                            {{"given", entered(cited(text, 80))}})});
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
    const States::Search search = states->find(*digits);
    const std::optional<States::Found>& found = search.found;
    if (!found && search.is_cut)
        return Refusal{
            Message("{file} holds so many changes side by side that its earlier states were not all searched for the "
                    "code or hash {hash}. Seal a copy of the file the sheet was made from, and look there.",
                    {{"file", code(call.arguments[0])}, {"hash", code(cited(*digits, 64))}})};
    if (!found)
        return Refusal{
            Message("{file} has no state with the code or hash {hash}. The sheet is of another job, or of changes "
                    "this copy does not hold: try the copy it was made from.",
                    {{"file", code(call.arguments[0])}, {"hash", code(cited(*digits, 64))}})};
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
    if (call.json())
        print_state_json(*found, time, person, *changes);
    else
        print_state(call.words_for(session->job()), *found, time, person, *changes);
    return fine;
}

Result<int> undo_batch(const Call& call) {
    return take_back(call, {&Session::undoable, &Session::undo, undone});
}
Result<int> redo_batch(const Call& call) {
    return take_back(call, {&Session::redoable, &Session::redo, redone});
}

}  // namespace tapwright::cli
