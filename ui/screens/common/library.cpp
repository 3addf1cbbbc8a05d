#include "ui/screens/common/library.h"

#include <set>

#include "core/job/field_text.h"
#include "core/words/choices.h"
#include "core/words/words.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

std::vector<Id> earlier_types(const Shared& shared, const Job& job, Kind kind) {
    std::vector<Id> earlier;
    const Job* library = shared.ports.library();
    const bool is_type = kind == Kind::speaker_type || kind == Kind::attenuator_type || kind == Kind::cable_type;
    if (!library || !is_type) return earlier;
    with_record_type(kind, [&]<class R>() {
        std::set<std::string> here;
        for (const R& record : job.all<R>()) here.insert(name_of(job, record.id));
        for (const R& record : library->all<R>())
            if (!here.contains(name_of(*library, record.id))) earlier.push_back(record.id);
    });
    return earlier;
}

std::optional<EarlierType> earlier_rows(Context& context, Shared& shared, const std::string& name, Kind kind,
                                        std::string_view part) {
    constexpr int most_rows = 60;
    const std::vector<Id> earlier = earlier_types(shared, context.session->job(), kind);
    const Job* library = shared.ports.library();
    std::optional<EarlierType> touched;
    int shown = 0;
    for (const Id& id : earlier) {
        const std::string typed = name_of(*library, id);
        if (!part.empty() && !holds(typed, part)) continue;
        if (shown == 0) section_title(context, Message("From earlier jobs"));
        if (++shown > most_rows) {
            quiet_paragraph(context, Message("More than can be listed: type part of the name."));
            break;
        }
        Row row;
        row.title = entered(typed);
        row.detail = some_facts(*library, kind, id);
        row.value = Message("Add");
        if (!list_row(context, name + "." + id.text(), row).tapped) continue;
        touched = EarlierType{adding(kind, library->fields_of(kind, id)), entered(typed)};
        touched->adding.id = IdMaker(shared.stamp().seed).make(kind);
    }
    return touched;
}

void add_earlier(Context& context, Shared& shared, const EarlierType& type, std::function<void(const Id&)> then) {
    shared.ask(context, {type.adding}, Message("{type} added from an earlier job", {{"type", type.name}}),
               [then = std::move(then)](const std::vector<Id>& ids) { then(ids.front()); });
}

Message some_facts(const Job& job, Kind kind, const Id& id) {
    constexpr std::size_t most_facts = 3;
    std::vector<Message> facts;
    for (const FieldInfo& field : fields(kind)) {
        if (field.name == "name" || field.name == "label" || field.name == "text") continue;
        if (kind == Kind::interface && field.name == "kind") continue;  // what it is called by
        const Value value = job.get(kind, id, field);
        if (value.is_null() || facts.size() == most_facts) continue;
        // The first begins the line.
        Message fact = message_of(field, value, &job);
        facts.push_back(facts.empty() ? as_title(std::move(fact)) : std::move(fact));
    }
    return read_out(std::move(facts));
}

}  // namespace tapwright::ui
