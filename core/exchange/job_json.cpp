#include "core/exchange/job_json.h"

#include <cmath>

#include "core/base/text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

constexpr std::string_view version_key = "tapwright_job";

Series known_keys() {
    Series keys{{code(version_key)}};
    for (std::size_t i = 0; i < kind_count; ++i) keys.items.push_back(code(plural(kind_at(i))));
    return keys;
}

class Reader {
public:
    explicit Reader(std::string_view what) { job_.what = what; }

    Result<JobText> read(const Value& file) {
        if (!file.map()) return refuse("", not_a_job());
        TAPWRIGHT_PASS(check_version(file.find(version_key)));
        if (file.find("job").is_null())
            return refuse("", Message("It has no {key}. Give it at least {example}.",
                                      {{"key", code("\"job\"")}, {"example", code(R"({ "name": "..." })")}}));
        for (const auto& [key, value] : *file.map()) {
            if (key == version_key) continue;
            const std::optional<Kind> kind = kind_from_plural(key);
            if (!kind)
                return refuse("/" + cited(key, 60),
                              Message("There is no such key. A job has {keys}.", {{"keys", known_keys()}}));
            TAPWRIGHT_PASS(*kind == Kind::job ? take_info(value) : take_list(*kind, key, value));
        }
        return std::move(job_);
    }

private:
    Refusal refuse(std::string_view pointer, Message why) const {
        return {placed(place_in(job_.what, pointer), std::move(why))};
    }

    static Message not_a_job() {
        return Message("It is not a job of this program. A job begins {start}.",
                       {{"start", code(R"({ "tapwright_job": )" + std::to_string(job_table_version) + ", ...")}});
    }

    Result<void> check_version(const Value& version) const {
        const double* number = version.number();
        if (!number || *number < 1 || *number != std::floor(*number)) return refuse("", not_a_job());
        if (*number > job_table_version)
            return refuse("", Message("This file is of version {version}; this Tapwright reads up to {known}. "
                                      "Install a newer Tapwright.",
                                      {{"version", code(shortest(*number))}, {"known", job_table_version}}));
        return done();
    }

    Result<void> take_info(const Value& value) {
        if (!value.map()) return refuse("/job", Message("Write a map of fields."));
        job_.changes.push_back({ChangeOp::set, Kind::job, job_id(), *value.map()});
        job_.pointers.emplace_back("/job");
        return done();
    }

    Result<void> take_list(Kind kind, const std::string& key, const Value& value) {
        if (!value.list()) return refuse("/" + key, Message("Write a list of records."));
        for (std::size_t i = 0; i < value.list()->size(); ++i)
            TAPWRIGHT_PASS(take_record(kind, "/" + key + "/" + std::to_string(i), (*value.list())[i]));
        return done();
    }

    Result<void> take_record(Kind kind, std::string pointer, const Value& value) {
        if (!value.map()) return refuse(pointer, Message("Write a map with an id and fields."));
        const std::string* id = value.find("id").text();
        if (!id || !Id::is_valid(*id))
            return refuse(pointer + "/id",
                          Message("Write an id of 1 to 40 characters from A-Z a-z 0-9 _ -, unique in the job."));
        Change change{ChangeOp::add, kind, Id(*id), {}};
        for (const auto& [name, held] : *value.map())
            if (name != "id") change.fields.emplace_back(name, held);
        job_.changes.push_back(std::move(change));
        job_.pointers.push_back(std::move(pointer));
        return done();
    }

    JobText job_;
};

}  // namespace

Message JobText::place_of(std::size_t change, std::string_view field) const {
    return place_in(what, pointers[change] + "/" + cited(field, 60));
}

std::string JobText::place(std::size_t change, std::string_view field) const {
    return what + ", at " + pointers[change] + "/" + cited(field, 60);
}

Result<JobText> read_job(std::string_view text, std::string_view what) {
    TAPWRIGHT_TAKE(file, parse_json(text, what));
    return Reader(what).read(file);
}

std::string write_job(const Job& job) {
    Map file{{std::string(version_key), static_cast<double>(job_table_version)}};
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            List records;
            for (const R& record : job.all<R>()) {
                Map map;
                if (R::kind_of != Kind::job) map.emplace_back("id", record.id.text());
                for (const FieldOf<R>& field : field_table<R>())
                    if (Value value = field.get(record); !value.is_null())
                        map.emplace_back(field.info.name, std::move(value));
                records.emplace_back(std::move(map));
            }
            if (R::kind_of == Kind::job)
                file.emplace_back(plural(kind_at(i)), std::move(records.front()));
            else if (!records.empty())
                file.emplace_back(plural(kind_at(i)), std::move(records));
        });
    return pretty_json(file);
}

Result<ChangeList> read_changes(std::string_view text, std::string_view what) {
    TAPWRIGHT_TAKE(file, parse_json(text, what));
    const Message place = place_in(what, "");
    if (const Map* map = file.map())
        for (const auto& [key, value] : *map)
            if (key != "id" && !find_field(Kind::trial, key))
                return placed(place,
                              Refusal{Message("“{key}” is not a key of a trial. A trial has id, name and changes.",
                                              {{"key", entered(cited(key, 40))}})});
    const Value& changes = file.map() ? file.find("changes") : file;
    if (!changes.list())
        return placed(
            place,
            Refusal{Message(
                "It has no list of changes. Write it in this form: {example}.",
                {{"example", code(R"([{"op": "set", "kind": "point", "id": "p1", "fields": {"tap_w": 2.5}}])")}})});
    const FieldInfo* field = find_field(Kind::trial, "changes");
    Trial trial;
    for (const FieldOf<Trial>& entry : field_table<Trial>())
        if (entry.info.name == "changes")
            if (const Result<void> set = entry.set(trial, changes, *field); !set) return placed(place, set.refusal());
    return trial.changes.value_or(ChangeList{});
}

}  // namespace tapwright
