// show, list: records as they stand, one or many. Nothing is written.
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

Map record_json(const Job& job, Kind kind, const Id& id) {
    return Map{{"kind", std::string(singular(kind))},
               {"id", id.text()},
               {"name", name_of(job, id)},
               {"fields", job.fields_of(kind, id)}};
}

std::string record_text(const Words& words, const Job& job, Kind kind, const Id& id) {
    std::string text = words.text(Message("{record} ({kind}, id {id})", {{"record", entered(name_of(job, id))},
                                                                         {"kind", title_of(kind)},
                                                                         {"id", code(id.text())}})) +
                       "\n";
    std::vector<Row> rows;
    for (const FieldInfo& field : fields(kind))
        if (const Value value = job.get(kind, id, field); !value.is_null())
            rows.push_back({Message(code(field.name)), title_of(field), message_of(field, value, &job)});
    return text + columns(words, rows, 3);
}

template <class Visit>
void for_each_record(const Job& job, std::optional<Kind> only, const Visit& visit) {
    for (std::size_t i = 0; i < kind_count; ++i) {
        const Kind kind = kind_at(i);
        if (only ? kind != *only : kind == Kind::job) continue;
        with_record_type(kind, [&]<class R>() {
            for (const R& record : job.all<R>()) visit(kind, record.id);
        });
    }
}

}  // namespace

Result<int> show_record(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Job& job = session->job();
    TAPWRIGHT_TAKE(id, record_named(job, call.arguments[1]));
    const Kind kind = *job.kind_of(id);
    print(call.json() ? pretty_json(record_json(job, kind, id)) : record_text(call.words_for(job), job, kind, id));
    return fine;
}

Result<int> list_records(const Call& call) {
    std::optional<Kind> only;
    if (call.arguments.size() > 1) {
        TAPWRIGHT_TAKE(kind, kind_named(call.arguments[1]));
        only = kind;
    }
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Job& job = session->job();
    if (call.json()) {
        List list;
        for_each_record(job, only, [&](Kind kind, const Id& id) { list.emplace_back(record_json(job, kind, id)); });
        print(pretty_json(Map{{"records", std::move(list)}}));
        return fine;
    }
    std::vector<Row> rows;
    for_each_record(job, only, [&](Kind kind, const Id& id) {
        rows.push_back({Message(code(id.text())), title_of(kind), cell(name_of(job, id))});
    });
    if (rows.empty())
        print_line(call.words, Message("There are no such records."));
    else
        print(columns(call.words_for(job), rows, 3));
    return fine;
}

}  // namespace tapwright::cli
