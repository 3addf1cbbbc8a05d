// Which record somebody means: by its id, or by the label or name it goes by on site.
#include <algorithm>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "platform/cli/command.h"

namespace tapwright::cli {
namespace {

using Candidate = NameIndex::Candidate;

// The records of these kinds that are called that; where none is, those that are but for capitals.
std::vector<Candidate> called(const Job& job, std::string_view text, KindSet kinds) {
    std::vector<Candidate> exact;
    std::vector<Candidate> near;
    const std::string lower = in_small_letters(text);
    for (std::size_t i = 0; i < kind_count; ++i) {
        const Kind kind = kind_at(i);
        if (kind == Kind::job || !kinds.has(kind)) continue;
        with_record_type(kind, [&]<class R>() {
            for (const R& record : job.all<R>()) {
                const std::string name = name_of(job, record.id);
                if (name == text)
                    exact.push_back({kind, record.id});
                else if (in_small_letters(name) == lower)
                    near.push_back({kind, record.id});
            }
        });
    }
    return exact.empty() ? near : exact;
}

Refusal ambiguous(const Job& job, std::string_view text, const std::vector<Candidate>& candidates) {
    constexpr std::size_t most = 5;
    std::vector<Argument> told;
    for (const Candidate& candidate : candidates) {
        if (told.size() == most) break;
        told.emplace_back(Message("{record} ({kind}, id {id})", {{"record", entered(name_of(job, candidate.id))},
                                                                 {"kind", title_of(candidate.kind)},
                                                                 {"id", code(candidate.id.text())}}));
    }
    if (candidates.size() > most)
        told.emplace_back(plural("{count} more", "{count} more", static_cast<std::int64_t>(candidates.size() - most)));
    return {Message("\"{text}\" is the name of {records}. Give the id of the one you mean.",
                    {{"text", entered(cited(text))}, {"records", series(told)}})};
}

// Whether the job has a record of one of these kinds under that id.
bool is_id(const Job& job, std::string_view text, KindSet kinds) {
    if (!Id::is_valid(text)) return false;
    const std::vector<Kind> held = job.kinds_of(Id(text));
    return std::any_of(held.begin(), held.end(), [&](Kind kind) { return kinds.has(kind); });
}

// The only one of those that are called so.
Result<std::optional<Id>> only_one(const Job& job, std::string_view text, const std::vector<Candidate>& candidates) {
    if (candidates.size() > 1) return ambiguous(job, text, candidates);
    return candidates.empty() ? std::optional<Id>() : std::optional<Id>(candidates.front().id);
}

// Names in place of ids in a list ("J-110; J-111") or in front of each = ("Foyer control=-6, a2=off").
Result<std::string> with_ids(const Job& job, const FieldInfo& field, std::string_view text) {
    const char separator = text.find(';') != std::string_view::npos ? ';' : ',';
    std::string made;
    for (std::size_t at = 0; at <= text.size();) {
        const std::size_t end = std::min(text.find(separator, at), text.size());
        const std::string_view part = text.substr(at, end - at);
        const std::size_t equals = field.form == FieldForm::knob_map ? part.find('=') : part.size();
        const std::string_view name = trimmed(part.substr(0, equals));
        TAPWRIGHT_TAKE(id, find_record(job, name, field.rule.may_refer_to));
        if (at > 0) made += separator;
        if (id && equals != std::string_view::npos)
            made += std::string(part.substr(0, part.find_first_not_of(' '))) + id->text() +
                    std::string(part.substr(equals));
        else
            made += part;
        at = end + 1;
    }
    return made;
}

}  // namespace

Result<std::optional<Id>> find_record(const Job& job, std::string_view text, KindSet kinds) {
    if (is_id(job, text, kinds)) return std::optional<Id>(Id(text));
    if (text.empty()) return std::optional<Id>();
    return only_one(job, text, called(job, text, kinds));
}

NameIndex::NameIndex(const Job& job) : job_(job) {
    for (std::size_t i = 0; i < kind_count; ++i)
        with_record_type(kind_at(i), [&]<class R>() {
            if (kind_at(i) == Kind::job) return;
            for (const R& record : job.all<R>())
                by_name_[in_small_letters(name_of(job, record.id))].push_back({kind_at(i), record.id});
        });
}

Result<std::optional<Id>> NameIndex::find(std::string_view text, KindSet kinds) const {
    if (is_id(job_, text, kinds)) return std::optional<Id>(Id(text));
    const auto found = by_name_.find(in_small_letters(text));
    if (text.empty() || found == by_name_.end()) return std::optional<Id>();
    std::vector<Candidate> exact;
    std::vector<Candidate> near;
    for (const Candidate& candidate : found->second)
        if (kinds.has(candidate.kind)) (name_of(job_, candidate.id) == text ? exact : near).push_back(candidate);
    return only_one(job_, text, exact.empty() ? near : exact);
}

Result<Id> record_named(const Job& job, std::string_view text, KindSet kinds) {
    TAPWRIGHT_TAKE(found, find_record(job, text, kinds));
    if (found) return *found;
    std::vector<std::string> names;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (kinds.has(kind_at(i)))
            with_record_type(kind_at(i), [&]<class R>() {
                for (const R& record : job.all<R>()) {
                    names.push_back(record.id.text());
                    names.push_back(name_of(job, record.id));
                }
            });
    return Refusal{sentences({no_record(std::string(text), kinds).message, did_you_mean(text, names)})};
}

Result<Kind> kind_named(const std::string& text) {
    if (const std::optional<Kind> kind = kind_from_singular(text)) return *kind;
    if (const std::optional<Kind> kind = kind_from_plural(text)) return *kind;
    std::vector<Argument> kinds;
    std::vector<std::string> words;
    for (std::size_t i = 0; i < kind_count; ++i) {
        words.emplace_back(singular(kind_at(i)));
        if (kind_at(i) != Kind::job) kinds.emplace_back(code(words.back()));
    }
    return Refusal{
        sentences({Message("\"{text}\" is not a kind of record.", {{"text", entered(cited(text))}}),
                   did_you_mean(text, words), Message("The kinds are {kinds}.", {{"kinds", series(kinds)}})})};
}

Result<Id> zone_of_option(const Job& job, const Call& call) {
    Result<Id> zone = record_named(job, call.option("--zone"), {Kind::zone});
    if (!zone) return placed(code("--zone"), zone.refusal());
    return zone;
}

Result<Value> value_for(const Job& job, const FieldInfo& field, std::string_view text) {
    const bool is_json = text.starts_with('[') || text.starts_with('{');
    if (field.form == FieldForm::id) {
        TAPWRIGHT_TAKE(id, find_record(job, trimmed(text), field.rule.may_refer_to));
        if (id) return Value(id->text());
    } else if ((field.form == FieldForm::id_list || field.form == FieldForm::knob_map) && !is_json) {
        TAPWRIGHT_TAKE(resolved, with_ids(job, field, text));
        return value_from_text(field, resolved, length_units(job));
    }
    Result<Value> value = value_from_text(field, text, length_units(job));
    if (value || field.form != FieldForm::choice) return value;
    return Refusal{
        sentences({value.refusal().message,
                   did_you_mean(text, std::vector<std::string>(field.choices.begin(), field.choices.end()))})};
}

}  // namespace tapwright::cli
