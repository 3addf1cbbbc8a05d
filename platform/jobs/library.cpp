#include "platform/jobs/library.h"

#include <array>

#include "core/exchange/job_json.h"

namespace tapwright {
namespace {

constexpr std::size_t most_types = 2000;  // of each kind
constexpr std::array library_kinds = {Kind::speaker_type, Kind::attenuator_type, Kind::cable_type};

std::string name_in(const Map& fields) {
    for (const auto& [field, value] : fields)
        if (field == "name" && value.text()) return *value.text();
    return {};
}

// The record of that kind and name, or an empty id.
Id named(const Job& job, Kind kind, const std::string& name) {
    Id found;
    with_record_type(kind, [&]<class R>() {
        for (const R& record : job.all<R>())
            if (found == Id() && name_of(job, record.id) == name) found = record.id;
    });
    return found;
}

// An id that is free, as near to the wanted one as may be.
Id free_id(const Job& job, const Id& wanted) {
    constexpr std::size_t room_for_number = 30;
    Id id = wanted;
    for (int number = 2; job.kind_of(id); ++number)
        id = Id(wanted.text().substr(0, room_for_number) + "-" + std::to_string(number));
    return id;
}

}  // namespace

Library::Library() {
    const Result<void> is_named =
        types_.set(Kind::job, job_id(), *find_field(Kind::job, "name"), Value("Types and cables"));
    TAPWRIGHT_ENSURE(is_named);
}

Result<int> Library::import_text(const std::string& text, const std::string& what) {
    TAPWRIGHT_TAKE(job, read_job(text, what));
    // Worked out beside it: a file is taken whole or not at all.
    Library made = *this;
    int taken = 0;
    for (std::size_t i = 0; i < job.changes.size(); ++i) {
        const tapwright::Change& change = job.changes[i];
        for (const Kind kind : library_kinds) {
            if (change.kind != kind) continue;
            for (const auto& [name, value] : change.fields)
                if (const FieldInfo* field = find_field(kind, name))
                    if (const Result<void> form = check_form(*field, value); !form)
                        return placed(job.place_of(i, name), form.refusal());
            taken += made.take_one(kind, name_in(change.fields), change.id, change.fields, true);
        }
    }
    *this = std::move(made);
    return taken;
}

int Library::take(const Job& job, const Job& before) {
    int taken = 0;
    for (const Kind kind : library_kinds)
        with_record_type(kind, [&]<class R>() {
            for (const R& record : job.all<R>()) {
                const Map fields = job.fields_of(kind, record.id);
                const bool changed = !before.has(kind, record.id) || before.fields_of(kind, record.id) != fields;
                taken += take_one(kind, name_in(fields), record.id, fields, changed);
            }
        });
    return taken;
}

int Library::take_one(Kind kind, const std::string& name, const Id& id, const Map& fields, bool replaces) {
    if (name.empty()) return 0;
    Id at = named(types_, kind, name);
    const bool is_new = at == Id();
    if (!is_new && (!replaces || types_.fields_of(kind, at) == fields)) return 0;
    if (is_new) {
        if (types_.count(kind) >= most_types) return 0;
        at = free_id(types_, id);
        types_.make(kind, at, {0, 0, 0, made_++});
    }
    for (const FieldInfo& field : tapwright::fields(kind)) {
        Value held;
        for (const auto& [key, value] : fields)
            if (key == field.name) held = value;
        const Result<void> set = types_.set(kind, at, field, held);
        TAPWRIGHT_ENSURE(set);  // its form was checked where it came in
    }
    return 1;
}

}  // namespace tapwright
