#include "core/session/decide.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <unordered_map>

#include "core/base/text.h"
#include "core/readings/readings.h"
#include "core/plan/trial.h"
#include "core/job/json.h"
#include "core/job/relations.h"

namespace tapwright {
namespace {

// Works a command out on a copy of the job.
class Decision {
public:
    Decision(const Job& job, const Command& command, const Author& author, const Stamp& stamp,
             const IdWasUsed& was_used)
        : before_(job),
          after_(job),
          command_(command),
          author_(author),
          stamp_(stamp),
          was_used_(was_used),
          ids_(stamp.seed) {}

    Result<Decided> run() {
        for (number_ = 0; number_ < command_.changes.size(); ++number_) {
            const Result<void> taken = take(command_.changes[number_]);
            if (!taken) return taken.refusal();
        }
        const Result<void> related = check_relations();
        if (!related) return related.refusal();
        const Result<void> readable = check_readings();
        if (!readable) return readable.refusal();
        if (command_.fill_in) write_down_expected();
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

    Result<void> take(const Change& change) {
        switch (change.op) {
            case ChangeOp::add:
                return add(change);
            case ChangeOp::set:
                return set(change);
            case ChangeOp::remove:
                return remove(change);
        }
        return done();
    }

    Result<void> add(const Change& change) {
        if (change.kind == Kind::job)
            return Refusal{"A job has one job record already; set its fields instead of adding another."};
        const bool given = !change.id.text().empty();
        const Id id = given ? change.id : ids_.make(change.kind);
        if (id == job_id()) return Refusal{here("id", id) + " must not be \"job\"; that id belongs to the job itself."};
        if (const std::optional<Kind> other = after_.kind_of(id))
            return Refusal{here("id", id) + " is " + id.text() + ", which is already the id of " +
                           with_article(singular(*other)) +
                           "; ids are unique over all kinds, so give this one another."};
        if (given && was_used_ && was_used_(id))
            return Refusal{here("id", id) + " is " + id.text() +
                           ", which a removed record had; leave the id out to get a new one."};
        after_.make(change.kind, id, next_rank());
        decided_.facts.push_back({change.kind, id, nullptr, true});
        by_id_.emplace(id.text(), number_);
        decided_.ids.push_back(id);
        for (const auto& [name, value] : change.fields) {
            if (value.is_null()) return Refusal{place(id, name) + " is null; leave it out when it is unknown."};
            const Result<void> written = write(change.kind, id, name, value);
            if (!written) return written.refusal();
        }
        if (command_.fill_in) fill_in(change.kind, id);
        return done();
    }

    Result<void> set(const Change& change) {
        const Result<void> known = check_known(change);
        if (!known) return known.refusal();
        by_id_.emplace(change.id.text(), number_);
        decided_.ids.push_back(change.id);
        for (const auto& [name, value] : change.fields) {
            const Result<void> written = write(change.kind, change.id, name, value);
            if (!written) return written.refusal();
        }
        return done();
    }

    Result<void> remove(const Change& change) {
        const Result<void> known = check_known(change);
        if (!known) return known.refusal();
        if (change.kind == Kind::job) return Refusal{"The job record cannot be removed; remove the file instead."};
        after_.remove(change.kind, change.id);
        decided_.facts.push_back({change.kind, change.id, nullptr, Value()});
        decided_.ids.push_back(change.id);
        removed_.push_back(change.id);
        return done();
    }

    Result<void> check_known(const Change& change) const {
        if (after_.has(change.kind, change.id)) return done();
        const std::string number = command_.place ? command_.place(number_, "id") : change.id.text();
        return Refusal{number + ": there is no " + std::string(singular(change.kind)) + " with the id " +
                       change.id.text() + " in this job; `export` or `check` list the ids."};
    }

    Result<void> write(Kind kind, const Id& id, std::string_view name, const Value& value) {
        const FieldInfo* field = find_field(kind, name);
        if (!field) return Refusal{unknown_field(kind, id, name)};
        if (const std::string* text = value.text())
            if (const Result<void> plain = check_plain(*field, *text); !plain)
                return Refusal{place(id, name) + " " + bare_text_of(plain.refusal().message) + "."};
        const Value held = after_.get(kind, id, *field);
        const Result<void> taken = after_.set(kind, id, *field, value);
        if (!taken) return placed(entered(place(id, name)), taken.refusal());
        Value now = after_.get(kind, id, *field);
        if (!(now == held)) decided_.facts.push_back({kind, id, field, std::move(now)});
        return done();
    }

    // What would print as nothing, or drive a terminal: form alone lets it in, so that old files still open.
    static Result<void> check_plain(const FieldInfo& field, const std::string& text) {
        if (field.form != FieldForm::text) return done();
        const auto is_control = [](char c) {
            const auto byte = static_cast<unsigned char>(c);
            return (byte < 0x20 && c != '\n' && c != '\t' && c != '\r') || byte == 0x7F;
        };
        if (std::any_of(text.begin(), text.end(), is_control))
            return Refusal{"holds a control character; write it without"};
        if (field.rule.is_required && !text.empty() && text.find_first_not_of(" \t\r\n") == std::string::npos)
            return Refusal{"is blank; write what it is called, or what there is to say"};
        return done();
    }

    std::string unknown_field(Kind kind, const Id& id, std::string_view name) const {
        std::vector<std::string> known;
        for (const FieldInfo& field : fields(kind)) known.emplace_back(field.name);
        return place(id, name) + " is no field of " + with_article(singular(kind)) + "; its fields are " +
               list_in_words(known) + ".";
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
            Reading draft = *reading;
            draft.expected_ohm.reset();
            const std::optional<Ohms> expected = judge(after_, draft).expected;
            const bool is_known = expected && std::isfinite(expected->value()) && *expected > Ohms(0);
            const Value value = is_known ? Value(expected->value()) : Value();
            if (value == after_.get(Kind::reading, change.id, *field)) continue;
            if (after_.set(Kind::reading, change.id, *field, value))
                decided_.facts.push_back({Kind::reading, change.id, field, value});
        }
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

    // Refuses what this command breaks; what was broken before does not stand in the way of mending something else.
    Result<void> check_relations() const {
        for (const Id& id : removed_)
            if (const std::vector<Referrer> naming = referrers(after_, id); !naming.empty())
                return Refusal{still_named(id, naming)};
        const std::vector<BrokenRelation> now = broken_relations(after_);
        if (now.empty()) return done();
        const std::vector<BrokenRelation> old = broken_relations(before_);
        for (const BrokenRelation& broken : now) {
            const bool is_old = std::find(old.begin(), old.end(), broken) != old.end();
            if (is_old && broken.kind != Kind::job) continue;  // a job without a name is one that is just being made
            const std::string_view field = broken.breach == Breach::shared_id ? "id" : broken.field;
            return Refusal{placed(entered(place(broken.id, field)), message_of(after_, broken))};
        }
        return done();
    }

    // No meter shows a line of no ohms at all, and V^2/0 would be endless watts.
    Result<void> check_readings() const {
        for (const Reading& reading : after_.all<Reading>())
            if (by_id_.contains(reading.id.text()) && reading.quantity == Measured::ohms && reading.value == 0.0)
                return Refusal{
                    place(reading.id, "value") +
                    " is 0 ohms; impedance is above 0, so write what the meter shows for a dead short, such as 0.1."};
        return done();
    }

    std::string still_named(const Id& id, const std::vector<Referrer>& naming) const {
        std::vector<std::string> who;
        for (const Referrer& referrer : naming) {
            if (who.size() == 5) {
                who.push_back(std::to_string(naming.size() - 5) + " more");
                break;
            }
            who.push_back(std::string(referrer.field) + " of the " + std::string(singular(referrer.kind)) + " " +
                          called(after_, referrer.id));
        }
        return called(before_, id) + " is still referred to by " + list_in_words(who) +
               "; change or remove these first.";
    }

    static std::string called(const Job& job, const Id& id) {
        const std::string name = name_of(job, id);
        return name == id.text() ? name : cited(name) + " (" + id.text() + ")";
    }

    // The change in hand, for what is wrong with its id.
    std::string here(std::string_view field, const Id& id) const {
        return command_.place ? command_.place(number_, field) : std::string(field) + " of " + id.text();
    }

    // Where the input says it, else the record by name.
    std::string place(const Id& id, std::string_view field) const {
        const auto found = by_id_.find(id.text());
        const std::size_t change = found == by_id_.end() ? number_ : found->second;
        if (command_.place && change < command_.changes.size()) return command_.place(change, field);
        const std::optional<Kind> kind = after_.kind_of(id);
        if (kind && !before_.has(*kind, id) && name_of(after_, id) == id.text())
            return std::string(field) + " of the new " + std::string(singular(*kind));
        return std::string(cited(field, 60)) + " of " + called(after_, id);
    }

    MadeRank next_rank() const {
        // Behind everything there is; the log gives the true rank when the facts are kept.
        return {INT64_MAX, UINT64_MAX, UINT32_MAX, static_cast<std::uint32_t>(number_)};
    }

    const Job& before_;
    Job after_;
    const Command& command_;
    const Author& author_;
    const Stamp& stamp_;
    const IdWasUsed& was_used_;
    IdMaker ids_;
    std::size_t number_ = 0;
    Decided decided_;
    std::vector<Id> removed_;
    std::unordered_map<std::string, std::size_t> by_id_;
};

}  // namespace

Result<Decided> decide(const Job& job, const Command& command, const Author& author, const Stamp& stamp,
                       const IdWasUsed& was_used) {
    return Decision(job, command, author, stamp, was_used).run();
}

ChangeList removal(const Job& job, Kind kind, const Id& id) {
    return trial_changes(job, {{ChangeOp::remove, kind, id, {}}});
}

}  // namespace tapwright
