#include "core/exchange/job_json.h"

#include <cmath>

#include "core/base/text.h"
#include "core/job/json.h"

namespace tapwright {
namespace {

constexpr std::string_view version_key = "tapwright_job";

std::string known_keys() {
    std::vector<std::string> keys{std::string(version_key)};
    for (std::size_t i = 0; i < kind_count; ++i) keys.emplace_back(plural(kind_at(i)));
    return list_in_words(keys);
}

class Reader {
public:
    explicit Reader(std::string_view what) { job_.what = what; }

    Result<JobText> read(const Value& file) {
        if (!file.map())
            return Refusal{job_.what + " holds " + std::string(file.what()) +
                           "; a job is a map that begins { \"tapwright_job\": 1, ..."};
        if (const Result<void> version = check_version(file.find(version_key)); !version) return version.refusal();
        if (file.find("job").is_null())
            return Refusal{job_.what + " has no \"job\"; it must hold at least { \"name\": ... }."};
        for (const auto& [key, value] : *file.map()) {
            if (key == version_key) continue;
            const std::optional<Kind> kind = kind_from_plural(key);
            if (!kind)
                return Refusal{job_.what + ", at /" + cited(key, 60) + ": this key is not known; a job has " +
                               known_keys() + "."};
            const Result<void> taken = *kind == Kind::job ? take_info(value) : take_list(*kind, key, value);
            if (!taken) return taken.refusal();
        }
        return std::move(job_);
    }

private:
    Result<void> check_version(const Value& version) const {
        const double* number = version.number();
        if (!number || *number < 1 || *number != std::floor(*number))
            return Refusal{job_.what + " has no \"tapwright_job\": 1 at the top, so it is not a job of this program."};
        if (*number > job_version)
            return Refusal{job_.what + " is of version " + shortest(*number) +
                           ", made by a newer Tapwright; this one reads up to version " + std::to_string(job_version) +
                           ". Nothing was changed."};
        return done();
    }

    Result<void> take_info(const Value& value) {
        if (!value.map())
            return Refusal{job_.what + ", at /job: must be a map of fields, not " + std::string(value.what()) + "."};
        job_.changes.push_back({ChangeOp::set, Kind::job, job_id(), *value.map()});
        job_.pointers.emplace_back("/job");
        return done();
    }

    Result<void> take_list(Kind kind, const std::string& key, const Value& value) {
        if (!value.list())
            return Refusal{job_.what + ", at /" + key + ": must be a list of records, not " +
                           std::string(value.what()) + "."};
        for (std::size_t i = 0; i < value.list()->size(); ++i) {
            const Result<void> taken = take_record(kind, "/" + key + "/" + std::to_string(i), (*value.list())[i]);
            if (!taken) return taken.refusal();
        }
        return done();
    }

    Result<void> take_record(Kind kind, std::string pointer, const Value& value) {
        if (!value.map())
            return Refusal{job_.what + ", at " + pointer + ": must be a map with an id and fields, not " +
                           std::string(value.what()) + "."};
        const std::string* id = value.find("id").text();
        if (!id || !Id::is_valid(*id))
            return Refusal{job_.what + ", at " + pointer +
                           "/id: " + (value.find("id").is_null() ? "is missing" : "is no id") +
                           "; it must be 1 to 40 of the characters A-Z a-z 0-9 _ -, and nothing else in the job may "
                           "have the same."};
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

std::string JobText::place(std::size_t change, std::string_view field) const {
    return what + ", at " + pointers[change] + "/" + cited(field, 60) + ": this";
}

Result<JobText> read_job(std::string_view text, std::string_view what) {
    const Result<Value> file = parse_json(text, what);
    if (!file) return file.refusal();
    return Reader(what).read(*file);
}

std::string write_job(const Job& job) {
    Map file{{std::string(version_key), static_cast<double>(job_version)}};
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
    const Result<Value> file = parse_json(text, what);
    if (!file) return file.refusal();
    if (const Map* map = file->map())
        for (const auto& [key, value] : *map)
            if (key != "id" && !find_field(Kind::trial, key))
                return Refusal{std::string(what) + " has the unknown key \"" + cited(key, 40) +
                               "\"; a trial has id, name and changes."};
    const Value& changes = file->map() ? file->find("changes") : *file;
    if (!changes.list())
        return Refusal{std::string(what) +
                       (file->map() && changes.is_null()
                            ? " has no \"changes\""
                            : " holds " + std::string(changes.what()) + " where the changes should be") +
                       "; it must be a list such as [{\"op\": \"set\", \"kind\": \"point\", \"id\": \"p1\", "
                       "\"fields\": {\"tap_w\": 2.5}}], alone or as \"changes\"."};
    const FieldInfo* field = find_field(Kind::trial, "changes");
    Trial trial;
    for (const FieldOf<Trial>& entry : field_table<Trial>())
        if (entry.info.name == "changes")
            if (const Result<void> set = entry.set(trial, changes, *field); !set)
                return Refusal{std::string(what) + " " + bare_text_of(set.refusal().message) + "."};
    return trial.changes.value_or(ChangeList{});
}

}  // namespace tapwright
