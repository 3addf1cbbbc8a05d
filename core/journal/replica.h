// What a set of batches adds up to: for each register its heads, for each record whether it is there. Pure and in
// memory; absorb the same batches in any order that keeps predecessors first, once or twice, and every copy is equal.
//
// Heads are the ops nobody replaced. One head, or several of equal value: that is the value. Several that differ are a
// conflict: all are kept, and the one of the greatest rank stands in until someone chooses (an op naming all heads).
//
// A removal replaces only heads of existence. The heads of fields it names are covered, not cleared. A record is
// present if an existence head is `true`, or if some field head is covered by no removal that is still a head: somebody
// changed what somebody else removed, and the record stands, with all its fields, as a conflict.
//
// Values are never parsed here. Memory: about 50 bytes a head and 130 a record, plus texts longer than 15 bytes.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "core/base/result.h"
#include "core/journal/batch_index.h"
#include "core/journal/log.h"
#include "core/journal/names.h"

namespace tapwright {

// A record's place in its Replica; never reused. Valid in that Replica (and its copies) only.
using RecordNumber = std::uint32_t;

// A field's standing value. The views hold until the next absorb().
struct FieldValue {
    std::string_view field;
    std::string_view value;  // never "null"
    bool contested = false;  // other heads say otherwise
};

// One head, for showing a conflict and for undo. The views hold until the next absorb().
struct HeadView {
    OpAddress address;
    std::string_view field;
    std::string_view value;
    std::int64_t clock = 0;
    std::string_view person;
};

struct Conflict {
    enum class Form {
        values,   // several heads of one field differ
        removal,  // removed by one, changed or made again by another; `field` is ""
    };
    Form form = Form::values;
    RecordNumber record = 0;
    std::string_view field;
    // By rank, the last one stands in. Form removal: the removals, and the heads none of them saw.
    std::vector<HeadView> heads;
};

struct Absorbed {
    bool is_new = false;                // false: the batch was there already, nothing happened
    std::vector<RecordNumber> touched;  // the records the batch has ops of, each once
};

class Replica {
public:
    Replica();

    // Takes the batch in whole, or refuses it and stays as it was: when a predecessor is missing (its writer's previous
    // batch, a parent, what it undoes), or when the same (writer, n) is known with another hash.
    // Requires: check_form(batch), and batch.hash is right; the Journal sees to both.
    Result<Absorbed> absorb(const Batch& batch);

    // ---- records --------------------------------------------------------------------------------
    std::size_t record_count() const { return records_.size(); }  // those not present included
    std::optional<RecordNumber> find(std::string_view kind, std::string_view id) const;
    std::string_view kind(RecordNumber record) const { return names_.text(records_[record].kind); }
    std::string_view id(RecordNumber record) const { return records_[record].id; }
    bool present(RecordNumber record) const { return records_[record].is_present; }
    // When it was first made, for "in the order they were made"; for a record nobody made, its first op.
    Rank rank(RecordNumber record) const { return records_[record].rank; }
    // All present records, in the order they were made.
    std::vector<RecordNumber> records() const;
    // The fields that have a value, in no particular order. Says the same whether the record is present or not.
    std::vector<FieldValue> fields(RecordNumber record) const;
    // The standing value of one field; nothing when it has none.
    std::optional<std::string_view> value(RecordNumber record, std::string_view field) const;

    // ---- heads ----------------------------------------------------------------------------------
    // By rank. All of them, those whose value is "null" too.
    std::vector<HeadView> heads(RecordNumber record) const;
    std::vector<HeadView> heads(RecordNumber record, std::string_view field) const;
    // What an op on this register replaces: its heads now. For a removal: every head of the record.
    std::vector<OpAddress> parents_for(std::string_view kind, std::string_view id, std::string_view field) const;
    std::vector<OpAddress> parents_for_removal(std::string_view kind, std::string_view id) const;
    // The ops a command is made of, parents filled in.
    Op making(std::string_view kind, std::string_view id) const;
    Op setting(std::string_view kind, std::string_view id, std::string_view field, std::string value) const;
    Op removing(std::string_view kind, std::string_view id) const;

    bool has_conflicts() const { return !contested_.empty(); }
    // Those of present records, ordered by record number.
    std::vector<Conflict> conflicts() const;

    // ---- batches --------------------------------------------------------------------------------
    std::size_t batch_count() const { return batches_.size(); }
    bool knows(BatchAddress address) const { return index_.find(address).has_value(); }
    // Requires: knows(address).
    std::string_view person_of(BatchAddress address) const;
    std::int64_t clock_of(BatchAddress address) const;
    std::optional<BatchAddress> undoes(BatchAddress address) const;  // nothing when it is no undo or redo
    bool is_undone(BatchAddress address) const;  // by an undo that is not undone itself. Requires: knows(address).
    // Every batch that is, found in one walk: for whoever asks about many.
    std::set<BatchAddress> all_undone() const;
    std::int64_t last_clock() const { return last_clock_; }  // the greatest absorbed; 0 when none

    // This person's latest batch that is neither an undo nor undone.
    std::optional<BatchAddress> latest_undoable(std::string_view person) const;
    // This person's latest undo that is not undone itself, unless they have done something else since. Undo it to redo.
    std::optional<BatchAddress> latest_redoable(std::string_view person) const;

private:
    enum class Role : std::uint8_t { action, undo, redo };
    static constexpr std::uint32_t none = ~std::uint32_t{0};
    static constexpr Name existence = 0;  // "" is the first of names_

    struct Known {
        Digest hash;
        Writer writer;
        std::int64_t clock;
        std::uint32_t n;
        Name person;           // of people_
        std::uint32_t undoes;  // the number of an earlier batch, or none
        Role role;
    };
    struct Head {
        std::uint32_t batch;  // its number
        std::uint32_t index;
        Name field;
        std::string value;
    };
    struct Record {
        std::string id;
        std::vector<Head> heads;  // ordered by field
        Rank rank;
        Name kind = 0;
        std::uint32_t touched_by = none;
        bool is_made = false;  // by any op ever
        bool is_present = false;
    };
    // An op as batch number << 32 | index.
    using OpNumber = std::uint64_t;

    RecordNumber record_for(const Op& op, Rank rank);
    void take(const Op& op, std::uint32_t batch, std::uint32_t index, Record& record);
    void settle(RecordNumber number);
    std::string key_of(Name kind, std::string_view id) const;
    OpNumber number_of(OpAddress address) const;
    static OpNumber number_of(const Head& head) { return OpNumber{head.batch} << 32 | head.index; }
    OpAddress address_of(const Head& head) const;
    Rank rank_of(const Head& head) const;
    HeadView view(const Head& head) const;
    std::vector<HeadView> ranked_views(std::vector<const Head*> heads) const;
    std::span<const Head> register_of(const Record& record, Name field) const;
    const Head& standing(std::span<const Head> heads) const;
    // The ops covered by the record's removals, ascending.
    std::vector<OpNumber> covered(const Record& record) const;
    // The field heads no removal covers, and existence heads that say `true`: what keeps the record present.
    std::vector<const Head*> holding(const Record& record) const;
    bool is_contested(const Record& record) const;
    std::vector<bool> undone() const;
    bool ranks_below(std::uint32_t batch, std::uint32_t other) const;
    std::optional<BatchAddress> latest(std::string_view person, Role role, bool may_be_undone) const;

    BatchIndex index_;
    NameTable names_;  // kinds and fields
    NameTable people_;
    std::vector<Known> batches_;
    std::vector<Record> records_;
    std::unordered_map<std::string, RecordNumber> numbers_;                // key_of()
    std::unordered_map<OpNumber, std::vector<OpNumber>> removal_parents_;  // of the removals that are heads
    std::set<RecordNumber> contested_;
    std::int64_t last_clock_ = 0;
    RecordNumber latest_record_ = none;  // the ops of one record come together
};

}  // namespace tapwright
