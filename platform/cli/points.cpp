// add FILE points --csv IN: points copied from a spreadsheet, all of them or none.
#include <algorithm>

#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/cli/points_table.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

constexpr std::size_t most_table_bytes = std::size_t{16} << 20;
constexpr std::size_t most_told = 20;  // as many as somebody can go through in one go

std::int64_t lines_with_problems(const std::vector<TableProblem>& problems) {
    std::int64_t count = 0;
    for (std::size_t i = 0; i < problems.size(); ++i)
        if (i == 0 || problems[i].line != problems[i - 1].line) ++count;
    return count;
}

// A line for each problem on standard error; for machines all of them in the one refusal.
Refusal report(const Call& call, const PointsTable& table) {
    std::vector<Message> told;
    for (const TableProblem& problem : table.problems) {
        if (told.size() == most_told) break;
        told.push_back(problem.text);
    }
    if (table.problems.size() > most_told)
        told.push_back(plural("... and {count} more.", "... and {count} more.",
                              static_cast<std::int64_t>(table.problems.size() - most_told)));
    if (call.json()) {
        if (!table.remedy.empty()) told.push_back(table.remedy);
        return {told.size() == 1 ? told.front() : sentences(std::move(told))};
    }
    for (const Message& line : told) remark(call.words, line);
    return {sentences(
        {table.remedy,
         plural("Nothing was added: {count} line of {file} cannot be taken.",
                "Nothing was added: {count} lines of {file} cannot be taken.", lines_with_problems(table.problems),
                {{"file", is_standard(call.option("--csv")) ? Argument(Message("standard input"))
                                                            : Argument(code(call.option("--csv")))}})})};
}

Message added(const Job& job, const std::vector<Id>& ids) {
    std::vector<Argument> labels;
    for (const Id& id : ids) {
        if (labels.size() == most_told) break;
        labels.emplace_back(entered(name_of(job, id)));
    }
    if (ids.size() > most_told)
        labels.emplace_back(plural("{count} more", "{count} more", static_cast<std::int64_t>(ids.size() - most_told)));
    return plural("Added {count} point: {labels}.", "Added {count} points: {labels}.",
                  static_cast<std::int64_t>(ids.size()), {{"labels", series(labels)}});
}

Message left_out(const std::vector<Entered>& columns) {
    if (columns.empty()) return {};
    return Message("Left out, because the program works it out itself: {columns}.", {{"columns", series(columns)}});
}

void print_added(const Call& call, const Job& job, const std::vector<Id>& ids, const PointsTable& table) {
    if (!call.json()) {
        print_line(call.words, added(job, ids));
        if (!table.left_out.empty()) print_line(call.words, left_out(table.left_out));
        return;
    }
    List points;
    for (const Id& id : ids) points.emplace_back(Map{{"id", id.text()}, {"label", name_of(job, id)}});
    List columns;
    for (const Entered& column : table.left_out) columns.emplace_back(column.text);
    print(pretty_json(Map{{"points", std::move(points)}, {"left_out", std::move(columns)}}));
}

Result<void> check_call(const Call& call) {
    TAPWRIGHT_TAKE(kind, kind_named(call.arguments[1]));
    if (kind != Kind::point)
        return Refusal{Message("{option} adds points. Write {call}.",
                               {{"option", code("--csv")}, {"call", code("tapwright add FILE points --csv IN.csv")}})};
    if (call.arguments.size() > 2)
        return Refusal{Message("With {option} the fields are columns of the table. Leave out {text}, or add a column.",
                               {{"option", code("--csv")}, {"text", entered(call.arguments[2])}})};
    return done();
}

}  // namespace

Result<int> add_points(const Call& call) {
    TAPWRIGHT_PASS(check_call(call));
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(author, author_for(call, *session));
    TAPWRIGHT_TAKE(text, read_input(call.option("--csv"), most_table_bytes));
    IdMaker ids(make_stamp().seed);
    TAPWRIGHT_TAKE(table, read_points(session->job(), text, call.words, ids));
    if (!table.problems.empty()) return report(call, table);
    const Words words = call.json() ? Words() : call.words;
    const auto place = [&](std::size_t change, std::string_view field) {
        return words.text(table.place_of(change, field));
    };
    TAPWRIGHT_TAKE(outcome, session->request(Command{.changes = table.changes, .fill_in = true, .place = place}, author,
                                             make_stamp()));
    print_added(call, session->job(), outcome.ids, table);
    return status_of(session->derived());
}

}  // namespace tapwright::cli
