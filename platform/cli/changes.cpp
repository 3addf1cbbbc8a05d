// add, set, remove: one change to a job.
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/words/words.h"
#include "platform/cli/command.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

struct Assignment {
    std::string field;
    std::string text;
};

Result<Assignment> split(const std::string& word) {
    const std::size_t equals = word.find('=');
    if (equals == std::string::npos || equals == 0)
        return Refusal{Message("\"{text}\" is not field=value. Write for example {example}.",
                               {{"text", entered(cited(word))}, {"example", code("tap_w=5")}})};
    return Assignment{word.substr(0, equals), word.substr(equals + 1)};
}

// field=value words as the fields of a change; an empty value clears.
Result<Map> fields_from(Kind kind, std::span<const std::string> words, const Job& job) {
    Map fields;
    for (const std::string& word : words) {
        const Result<Assignment> assignment = split(word);
        if (!assignment) return assignment.refusal();
        for (const auto& [name, value] : fields)
            if (name == assignment->field) return given_twice(name);
        const FieldInfo* field = find_field(kind, assignment->field);
        if (!field && assignment->field == "id") {  // of a new record; decide() refuses it for one that has one
            fields.emplace_back(assignment->field, assignment->text);
            continue;
        }
        if (!field) return no_field(kind, assignment->field);
        const Result<Value> value = value_for(job, *field, assignment->text);
        if (!value) return placed(code(assignment->field), value.refusal());
        fields.emplace_back(assignment->field, *value);
    }
    return fields;
}

// What was done to a record, or that nothing had to be.
Message done_to(ChangeOp did, Kind kind, const std::string& name, const Id& id, bool kept) {
    const std::vector<Named> record{{"kind", title_of(kind)}, {"record", entered(name)}, {"id", code(id.text())}};
    if (!kept) return Message(Pattern("Nothing had to change: {kind} {record}."), record);
    switch (did) {
        case ChangeOp::add:
            return Message(Pattern("Added: {kind} {record}, id {id}."), record);
        case ChangeOp::set:
            return Message(Pattern("Changed: {kind} {record}."), record);
        case ChangeOp::remove:
            return Message(Pattern("Removed: {kind} {record}."), record);
    }
    TAPWRIGHT_ENSURE(!"a change that is not in the list");
}

// Of a loudspeaker that was just added where a reading shows watts that nobody recorded: it may be one of them.
Message counted_as_new(const Session& session, const Id& id) {
    const Job& job = session.job();
    const Point* point = job.find<Point>(id);
    if (!point || point->kind != PointKind::speaker || point->origin) return {};
    const std::uint32_t zone = session.derived().points[*job.place<Point>(id)].zone;
    if (zone == nowhere || !(session.derived().zones[zone].margin.unrecorded > Watts(0))) return {};
    return Message(
        "It counts as new, beside {watts} that were read on {zone} and nobody recorded. If it was there before: "
        "{command}.",
        {{"watts", session.derived().zones[zone].margin.unrecorded},
         {"zone", entered(name_of(job, job.all<Zone>()[zone].id))},
         {"command", code("`tapwright set FILE " + id.text() + " origin=existing`")}});
}

Result<int> carry_out(Session& session, const ChangeList& changes, const Call& call) {
    const Result<Author> author = author_for(call, session);
    if (!author) return author.refusal();
    const Change& last = changes.back();
    const std::string name_before = name_of(session.job(), last.id);
    const Result<Outcome> outcome =
        session.request(Command{.changes = changes, .fill_in = true, .place = {}}, *author, make_stamp());
    if (!outcome) return outcome.refusal();
    const Id& id = outcome->ids.back();
    const std::string name = last.op == ChangeOp::remove ? name_before : name_of(session.job(), id);
    if (call.json())
        print(pretty_json(Map{{"id", id.text()}}));
    else
        print_line(call.words, sentences({done_to(last.op, last.kind, name, id, outcome->kept),
                                          last.op == ChangeOp::add ? counted_as_new(session, id) : Message()}));
    return status_of(session.derived());
}

Result<Id> id_from(const std::string& text) {
    if (!Id::is_valid(text)) return no_id(text);
    return Id(text);
}

// The record that FILE ID names, in its opened job.
struct Target {
    Session session;
    Id id;
    Kind kind = Kind::job;
};

Result<Target> open_target(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(id, record_named(session->job(), call.arguments[1]));
    const Kind kind = *session->job().kind_of(id);
    return Target{std::move(*session), id, kind};
}

}  // namespace

Result<int> add_record(const Call& call) {
    if (call.has("--csv")) return add_points(call);
    TAPWRIGHT_TAKE(kind, kind_named(call.arguments[1]));
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    Result<Map> fields = fields_from(kind, std::span(call.arguments).subspan(2), session->job());
    if (!fields) return fields.refusal();
    Change change{ChangeOp::add, kind, {}, {}};
    for (auto& [name, value] : *fields) {
        if (name == "id") {
            const Result<Id> id = id_from(*value.text());
            if (!id) return id.refusal();
            change.id = *id;
        } else if (!value.is_null()) {
            change.fields.emplace_back(name, std::move(value));
        }
    }
    return carry_out(*session, {change}, call);
}

Result<int> set_record(const Call& call) {
    Result<Target> target = open_target(call);
    if (!target) return target.refusal();
    Result<Map> fields = fields_from(target->kind, std::span(call.arguments).subspan(2), target->session.job());
    if (!fields) return fields.refusal();
    return carry_out(target->session, {Change{ChangeOp::set, target->kind, target->id, std::move(*fields)}}, call);
}

Result<int> remove_record(const Call& call) {
    Result<Target> target = open_target(call);
    if (!target) return target.refusal();
    return carry_out(target->session, removal(target->session.job(), target->kind, target->id), call);
}

}  // namespace tapwright::cli
