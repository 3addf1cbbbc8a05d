#include "core/session/decide.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <unordered_map>
#include <unordered_set>

#include "core/base/blank.h"
#include "core/base/text.h"
#include "core/calc/emergency.h"
#include "core/derive/derived.h"
#include "core/faults/fault_line.h"
#include "core/job/json.h"
#include "core/job/relations.h"
#include "core/plan/trial.h"
#include "core/readings/readings.h"
#include "core/session/account_facts.h"
#include "core/session/told.h"

namespace tapwright {
namespace {

// Works a command out on a copy of the job.
class Decision {
public:
    Decision(const Job& job, const Command& command, const Author& author, const Stamp& stamp,
             const IdWasUsed& was_used, const Judged* judged)
        : before_(job),
          judged_(judged),
          after_(job),
          command_(command),
          author_(author),
          stamp_(stamp),
          was_used_(was_used),
          ids_(stamp.seed) {}

    Result<Decided> run() {
        for (number_ = 0; number_ < command_.changes.size(); ++number_) take(command_.changes[number_]);
        // A record that could not be made would be missed everywhere, and each time for nothing.
        if (!lacks_records_) {
            check_removals();
            check_relations();
            check_readings();
            if (command_.fill_in) check_emergency();
            check_fault_weights();
        }
        if (!refusals_.empty()) return all_refusals();
        if (command_.fill_in) {
            write_down_expected();
            keep_accounts();
        }
        drop_what_is_gone();
        decided_.after = std::move(after_);
        return std::move(decided_);
    }

private:
    // A removal names what stood before the command. A field that the same command sets first would be something it
    // never saw, and the record would stand for it; and what is made and removed in one go was never there.
    void drop_what_is_gone() {
        if (removed_.empty()) return;
        std::set<std::pair<Kind, std::string>> gone;
        std::set<std::pair<Kind, std::string>> made;
        for (const Fact& fact : decided_.facts)
            if (!fact.field) (fact.value.is_null() ? gone : made).emplace(fact.kind, fact.id.text());
        std::erase_if(decided_.facts, [&](const Fact& fact) {
            const std::pair record(fact.kind, fact.id.text());
            return gone.contains(record) && (fact.field || made.contains(record));
        });
    }

    void take(const Change& change) {
        switch (change.op) {
            case ChangeOp::add:
                return add(change);
            case ChangeOp::set:
                return set(change);
            case ChangeOp::remove:
                return remove(change);
        }
    }

    void add(const Change& change) {
        const bool given = !change.id.text().empty();
        const Id id = given ? change.id : ids_.make(change.kind);
        decided_.ids.push_back(id);
        if (Message problem = problem_of_new(change.kind, id, given); !problem.empty()) {
            lacks_records_ = true;
            return refuse(id, std::move(problem));
        }
        after_.make(change.kind, id, next_rank());
        decided_.facts.push_back({change.kind, id, nullptr, true});
        by_id_.emplace(id.text(), number_);
        for (const auto& [name, value] : change.fields)
            if (value.is_null())
                refuse(id, placed(place(id, name), Message("It is null; leave it out while it is unknown.")));
            else
                write(change.kind, id, name, value);
        if (command_.fill_in) fill_in(change.kind, id);
        if (command_.fill_in && change.kind == Kind::reading) {
            const Reading* reading = after_.find<Reading>(id);
            if (reading->quantity == Measured::tap_w && reading->at) mark_fitted(*reading->at);
        }
    }

    // Why a record cannot be made; nothing where it can.
    Message problem_of_new(Kind kind, const Id& id, bool is_given) const {
        if (kind == Kind::job) return Message("A job has its settings already; change them instead of adding some.");
        const auto refused = [&](Message problem) { return placed(here("id", id), std::move(problem)); };
        const auto shown = [&] { return code(id.text()); };
        if (id == job_id())
            return refused(Message("{id} is the id of the job itself; use another.", {{"id", shown()}}));
        if (const std::optional<Kind> other = after_.kind_of(id))
            return refused(Message("{id} is already used ({kind}). Every id must be unique; change one.",
                                   {{"id", shown()}, {"kind", title_of(*other)}}));
        if (is_given && was_used_ && was_used_(id))
            return refused(
                Message("{id} belonged to a removed record; leave the id out to get a new one.", {{"id", shown()}}));
        return {};
    }

    void set(const Change& change) {
        decided_.ids.push_back(change.id);
        if (!check_known(change)) return;
        by_id_.emplace(change.id.text(), number_);
        const std::size_t facts = decided_.facts.size();
        for (const auto& [name, value] : change.fields) write(change.kind, change.id, name, value);
        const bool changes_something = decided_.facts.size() > facts;
        if (command_.fill_in && change.kind == Kind::point) note_seen_on_site(change, changes_something);
    }

    // Who records a tap, or what was heard, stood before a loudspeaker that hangs there; unless the same change says
    // otherwise, such as a tap set on the bench.
    void note_seen_on_site(const Change& change, bool changes_something) {
        const auto says = [&](std::string_view name) {
            return std::any_of(change.fields.begin(), change.fields.end(), [&](const auto& field) {
                return field.first == name && (!field.second.is_null() || name == "state");
            });
        };
        const Point* point = after_.find<Point>(change.id);
        const bool is_said_again = !changes_something && !(point && point->state);
        if ((says("tap_w") || says("heard")) && !says("state") && !is_said_again) mark_fitted(change.id);
    }

    void mark_fitted(const Id& id) {
        const Point* point = after_.find<Point>(id);
        if (!point || point->kind != PointKind::speaker) return;
        if (point->state && *point->state >= PointState::fitted) return;
        write(Kind::point, id, "state", std::string(word(PointState::fitted)));
    }

    void remove(const Change& change) {
        decided_.ids.push_back(change.id);
        if (!check_known(change)) return;
        if (change.kind == Kind::job)
            return refuse(change.id, Message("The job's settings cannot be removed; delete the file instead."));
        after_.remove(change.kind, change.id);
        decided_.facts.push_back({change.kind, change.id, nullptr, Value()});
        removed_.push_back(change.id);
    }

    bool check_known(const Change& change) {
        if (after_.has(change.kind, change.id)) return true;
        const Code kind = code(singular(change.kind));
        const Code id = code(change.id.text());
        refuse(change.id,
               command_.place
                   ? placed(here("id", change.id),
                            Message("There is no {kind} with this id in this job.", {{"kind", kind}}))
                   : Message("There is no {kind} with the id {id} in this job; {check} and {export} list the ids.",
                             {{"kind", kind}, {"id", id}, {"check", code("check")}, {"export", code("export")}}));
        return false;
    }

    void write(Kind kind, const Id& id, std::string_view name, const Value& value) {
        const FieldInfo* field = find_field(kind, name);
        if (!field) return refuse(id, unknown_field(kind, id, name));
        if (const std::string* text = value.text())
            if (Message problem = problem_of_text(*field, *text, id); !problem.empty())
                return refuse(id, std::move(problem));
        const Value held = after_.get(kind, id, *field);
        if (const Result<void> taken = after_.set(kind, id, *field, value); !taken)
            return refuse(id, placed(place(id, name), taken.refusal().message));
        Value now = after_.get(kind, id, *field);
        if (!(now == held)) decided_.facts.push_back({kind, id, field, std::move(now)});
    }

    // What would print as nothing, or drive a terminal: form alone lets it in, so that old files still open.
    Message problem_of_text(const FieldInfo& field, const std::string& text, const Id& id) const {
        if (field.form != FieldForm::text) return {};
        const auto is_control = [](char c) {
            const auto byte = static_cast<unsigned char>(c);
            return (byte < 0x20 && c != '\n' && c != '\t' && c != '\r') || byte == 0x7F;
        };
        if (std::any_of(text.begin(), text.end(), is_control))
            return placed(place(id, field.name), Message("There is a control character in it; write it without."));
        const bool is_needed = field.rule.is_required;
        if (!is_blank(text) || (is_needed && text.empty())) return {};  // its form refuses an empty one
        return placed(place(id, field.name), is_needed ? Message("It is blank; write at least one letter.")
                                                       : Message("It is blank; leave it out while it is unknown."));
    }

    // A kind's fields are listed once: a table or a newer program's file may name many that it does not have.
    Message unknown_field(Kind kind, const Id& id, std::string_view name) {
        const Code of = code(singular(kind));
        const Code unknown = code(cited(name));
        std::vector<Code> known;
        if (fields_listed_.insert(kind).second)
            for (const FieldInfo& field : fields(kind)) known.push_back(code(field.name));
        return placed(command_.place ? Message(code(command_.place(number_, name))) : told_record_of(id),
                      known.empty() ? Message("{kind} has no field {name}.", {{"kind", of}, {"name", unknown}})
                                    : Message("{kind} has no field {name}. Its fields are {fields}.",
                                              {{"kind", of}, {"name", unknown}, {"fields", series(known)}}));
    }

    void refuse(const Id& id, Message message) {
        refused_.insert(id.text());
        refusals_.push_back(std::move(message));
    }

    // As many as somebody can go through in one go, and how many more there are.
    Refusal all_refusals() {
        constexpr std::size_t most = 20;
        const std::size_t count = refusals_.size();
        if (count == 1) return {std::move(refusals_.front())};
        if (count > most) {
            refusals_.resize(most);
            refusals_.push_back(
                plural("... and {count} more.", "... and {count} more.", static_cast<std::int64_t>(count - most)));
        }
        return {sentences(std::move(refusals_))};
    }

    // What is obvious on site.
    void fill_in(Kind kind, const Id& id) {
        if (kind == Kind::reading || kind == Kind::signoff || kind == Kind::photo)
            fill(kind, id, kind == Kind::photo ? "taken" : "time", stamp_.time);
        if (kind == Kind::reading && !author_.visit.empty()) fill(kind, id, "visit", author_.visit);
        if (kind == Kind::snag) fill(kind, id, "opened", stamp_.date());
        if (kind == Kind::visit) fill(kind, id, "date", stamp_.date());
        if (kind == Kind::visit && !author_.person.empty()) fill(kind, id, "person", author_.person);
    }

    // What a reading proves is held against the record of its time, which later changes of taps must not rewrite.
    void write_down_expected() {
        const FieldInfo* field = find_field(Kind::reading, "expected_ohm");
        for (const Change& change : changes_with_readings()) {
            const Reading* reading = after_.find<Reading>(change.id);
            if (!reading) continue;  // the same command takes it away again
            const std::optional<Ohms> expected = expected_of(after_, *reading);
            const Value value =
                expected ? Value(std::clamp(*expected, least_expected_ohms, open_line_ohms).value()) : Value();
            if (value == after_.get(Kind::reading, change.id, *field)) continue;
            if (after_.set(Kind::reading, change.id, *field, value))
                decided_.facts.push_back({Kind::reading, change.id, field, value});
        }
    }

    void keep_accounts() {
        if (before_.all<Reading>().empty()) return;
        const std::unordered_set<std::string> given = accounts_given();
        std::optional<Derived> own;
        if (!judged_) own = derive(before_);
        for (const AccountFact& fact : account_facts(before_, judged_ ? *judged_ : *own, after_, command_.changes)) {
            if (given.contains(fact.id.text())) continue;
            const FieldInfo* field = find_field(fact.kind, fact.field);
            if (after_.set(fact.kind, fact.id, *field, fact.value))
                decided_.facts.push_back({fact.kind, fact.id, field, fact.value});
        }
    }

    // The records of which the command itself says what is found, one way or the other.
    std::unordered_set<std::string> accounts_given() const {
        std::unordered_set<std::string> given;
        for (const Change& change : command_.changes)
            if (std::any_of(change.fields.begin(), change.fields.end(),
                            [](const auto& field) { return field.first == "found_w" || field.first == "found_by"; }))
                given.insert(change.id.text());
        return given;
    }

    // The readings that are new, or were taken otherwise than was thought; without those whose expectation was given.
    ChangeList changes_with_readings() const {
        ChangeList found;
        for (std::size_t i = 0; i < command_.changes.size(); ++i) {
            Change change = command_.changes[i];
            if (change.kind != Kind::reading || change.op == ChangeOp::remove) continue;
            const auto names = [&](std::string_view name) {
                return std::any_of(change.fields.begin(), change.fields.end(),
                                   [&](const auto& field) { return field.first == name; });
            };
            const bool otherwise = names("at") || names("knobs") || names("hz") || names("override");
            if (names("expected_ohm") || (change.op == ChangeOp::set && !otherwise)) continue;
            change.id = decided_.ids[i];
            found.push_back(std::move(change));
        }
        return found;
    }

    void fill(Kind kind, const Id& id, std::string_view name, const std::string& text) {
        const FieldInfo* field = find_field(kind, name);
        if (!after_.get(kind, id, *field).is_null()) return;
        if (after_.set(kind, id, *field, text)) decided_.facts.push_back({kind, id, field, text});
    }

    void check_removals() {
        if (removed_.empty()) return;
        const std::vector<std::vector<Referrer>> users = referrers(after_, removed_);
        for (std::size_t i = 0; i < removed_.size(); ++i)
            if (!users[i].empty()) refuse(removed_[i], still_used(removed_[i], users[i]));
    }

    // The same for equal ones alone: neither an id nor the name of a field holds a blank.
    static std::string key_of(const BrokenRelation& broken) {
        std::string key = std::to_string(static_cast<int>(broken.breach));
        for (const std::string_view part :
             {singular(broken.kind), std::string_view(broken.id.text()), broken.field, std::string_view(broken.detail)})
            key.append(1, ' ').append(part);
        return key;
    }

    // Refuses what this command breaks; what was broken before does not stand in the way of mending something else.
    // What a refusal above leads to is not said again: the users of a removed record, a field that was not taken.
    void check_relations() {
        const std::vector<BrokenRelation> now = broken_relations(after_);
        if (now.empty()) return;
        const std::vector<BrokenRelation> broken_before = broken_relations(before_);
        std::unordered_set<std::string> old;
        for (const BrokenRelation& broken : broken_before) old.insert(key_of(broken));
        for (const BrokenRelation& broken : now) {
            const bool is_old = old.contains(key_of(broken));
            if (is_old && (broken.kind != Kind::job || was_used_)) continue;  // a job that is being made needs a name
            if (broken.breach == Breach::missing_field && refused_.contains(broken.id.text())) continue;
            if (broken.breach == Breach::dangling && refused_.contains(broken.detail)) continue;
            const std::string_view field = broken.breach == Breach::shared_id ? "id" : broken.field;
            refusals_.push_back(placed(place(broken.id, field), message_of(after_, broken)));
        }
    }

    // No meter shows a line of no ohms at all, and V^2/0 would be endless watts.
    void check_readings() {
        for (const Reading& reading : after_.all<Reading>())
            if (by_id_.contains(reading.id.text()) && reading.quantity == Measured::ohms && reading.value == 0.0)
                refuse(reading.id,
                       placed(place(reading.id, "value"),
                              Message("Impedance is above 0 Ω. For a dead short write what the meter shows, such "
                                      "as 0.1 Ω.")));
    }

    // Nobody but qualified people puts a meter on such a line; what a file or another copy holds is kept as it is.
    void check_emergency() {
        std::optional<Wiring> wiring;
        for (std::size_t i = 0; i < command_.changes.size(); ++i) {
            const Change& change = command_.changes[i];
            if (change.kind != Kind::reading || change.op == ChangeOp::remove) continue;
            const Reading* reading = after_.find<Reading>(decided_.ids[i]);
            if (!reading || !reading->at) continue;
            if (change.op == ChangeOp::set && !moves_reading(change)) continue;
            if (!wiring) wiring = wire(after_);
            if (!is_emergency(after_, *wiring, *reading->at)) continue;
            refuse(reading->id,
                   placed(place(reading->id, "at"),
                          Message("{place} is part of a fire or emergency system, so no reading is taken there. Leave "
                                  "it to qualified people; if it is not, correct {field} first.",
                                  {{"place", entered(name_of(after_, *reading->at))},
                                   {"field", title_of(*find_field(Kind::zone, "emergency"))}})));
        }
    }

    // Said where it is entered, not only once somebody looks for a fault.
    void check_fault_weights() {
        if (after_.info().fault_weights == before_.info().fault_weights) return;
        const Result<FaultWeights> weights = weights_for(after_, {});
        if (!weights) refusals_.push_back(weights.refusal().message);
    }

    static bool moves_reading(const Change& change) {
        return std::any_of(change.fields.begin(), change.fields.end(),
                           [](const auto& field) { return field.first == "at" || field.first == "value"; });
    }

    Message still_used(const Id& id, const std::vector<Referrer>& users) const {
        constexpr std::size_t most = 5;
        std::vector<Argument> told;
        for (const Referrer& user : users) {
            if (told.size() == most) break;
            told.emplace_back(told_field(after_, user.kind, user.id, *find_field(user.kind, user.field)));
        }
        if (users.size() > most)
            told.emplace_back(plural("{count} more", "{count} more", static_cast<std::int64_t>(users.size() - most)));
        return Message("{record} is still used: {users}. Change or remove these first.",
                       {{"record", told_record(before_, *before_.kind_of(id), id)}, {"users", series(told)}});
    }

    // The change in hand, for what is wrong with its id.
    Message here(std::string_view field, const Id& id) const {
        return command_.place ? Message(code(command_.place(number_, field))) : Message(code(id.text()));
    }

    // Where the input says it, else the field and the record by name.
    Message place(const Id& id, std::string_view name) const {
        const auto found = by_id_.find(id.text());
        const std::size_t change = found == by_id_.end() ? number_ : found->second;
        if (command_.place && change < command_.changes.size()) return code(command_.place(change, name));
        const std::optional<Kind> kind = after_.kind_of(id);
        const FieldInfo* field = kind ? find_field(*kind, name) : nullptr;
        return field ? told_field(after_, *kind, id, *field) : told_record_of(id);
    }

    Message told_record_of(const Id& id) const {
        const std::optional<Kind> kind = after_.kind_of(id);
        return kind ? told_record(after_, *kind, id) : Message(code(id.text()));
    }

    MadeRank next_rank() const {
        // Behind everything there is; the log gives the true rank when the facts are kept.
        return {INT64_MAX, UINT64_MAX, UINT32_MAX, static_cast<std::uint32_t>(number_)};
    }

    const Job& before_;
    const Judged* judged_;  // of before_; null: to be worked out
    Job after_;
    const Command& command_;
    const Author& author_;
    const Stamp& stamp_;
    const IdWasUsed& was_used_;
    IdMaker ids_;
    std::size_t number_ = 0;
    Decided decided_;
    std::vector<Id> removed_;
    std::vector<Message> refusals_;
    std::unordered_set<std::string> refused_;  // ids of the records they are about
    std::set<Kind> fields_listed_;             // of kinds of which a field was not known
    bool lacks_records_ = false;
    std::unordered_map<std::string, std::size_t> by_id_;
};

}  // namespace

Result<Decided> decide(const Job& job, const Command& command, const Author& author, const Stamp& stamp,
                       const IdWasUsed& was_used, const Judged* judged) {
    return Decision(job, command, author, stamp, was_used, judged).run();
}

ChangeList removal(const Job& job, Kind kind, const Id& id) {
    return trial_changes(job, {{ChangeOp::remove, kind, id, {}}});
}

}  // namespace tapwright
