// Job: all records of one system, as values, in the order they were made. It knows form but no relations
// (core/job/relations.h), no history (core/journal) and no calculation (core/calc).
#pragma once

#include <optional>
#include <span>
#include <tuple>
#include <vector>

#include "core/job/directory.h"
#include "core/job/field_table.h"
#include "core/job/records.h"

namespace tapwright {

// When a record was first made: what orders the records of a kind. The same facts give the same order on every copy.
struct MadeRank {
    std::int64_t clock = 0;
    std::uint64_t writer = 0;
    std::uint32_t batch = 0;
    std::uint32_t index = 0;
    friend auto operator<=>(const MadeRank&, const MadeRank&) = default;
};

// The records of one kind. Making and removing are cheap: putting in order what they leave waits until somebody reads,
// so taking back an import of ten thousand records moves each of them once.
template <class R>
class Records {
public:
    Records() = default;
    // A copy has room for some more: it is mostly made to work something out in that adds a few.
    Records(const Records& other) : directory_(other.directory_), gone_(other.gone_), settled_(other.settled_) {
        items_.reserve(other.items_.size() + other.items_.size() / 16);
        items_.insert(items_.end(), other.items_.begin(), other.items_.end());
        ranks_.reserve(items_.capacity());
        ranks_.insert(ranks_.end(), other.ranks_.begin(), other.ranks_.end());
    }
    Records(Records&&) noexcept = default;
    Records& operator=(const Records& other) { return *this = Records(other); }
    Records& operator=(Records&&) noexcept = default;
    ~Records() = default;

    // In the order of their ranks. What this or the next three return holds until the next make() or remove().
    std::span<const R> all() const {
        settle();
        return items_;
    }
    std::optional<std::uint32_t> place(const Id& id) const {
        settle();
        return directory_.find(id);
    }
    const R* find(const Id& id) const {
        const auto at = place(id);
        return at ? &items_[*at] : nullptr;
    }
    const R* find(const std::optional<Id>& id) const { return id ? find(*id) : nullptr; }
    const MadeRank& rank(std::uint32_t place) const {
        settle();
        return ranks_[place];
    }
    bool has(const Id& id) const { return directory_.find(id).has_value(); }
    // Requires: there is one of that id.
    const MadeRank& rank(const Id& id) const { return ranks_[*directory_.find(id)]; }
    std::size_t size() const { return items_.size() - gone_.size(); }
    // To change it; holds until the next call of anything else.
    R* find(const Id& id) {
        const auto at = directory_.find(id);
        return at ? &items_[*at] : nullptr;
    }

    // Makes an empty record. Requires: there is none of that id.
    R& make(const Id& id, const MadeRank& rank);
    // Requires: there is one of that id.
    void remove(const Id& id);

private:
    // Puts the records in order and closes the gaps, where there is anything to do.
    void settle() const {
        if (!settled_) rearrange();
    }
    void rearrange() const;
    void close_gaps() const;

    // Until settled: in the order they were made, those that are gone among them.
    mutable std::vector<R> items_;
    mutable std::vector<MadeRank> ranks_;
    mutable Directory directory_;
    mutable std::vector<std::uint32_t> gone_;  // places in items_
    mutable bool settled_ = true;
};

class Job {
public:
    // A job with its one JobInfo record, nameless.
    Job();

    const JobInfo& info() const { return std::get<Records<JobInfo>>(records_).all().front(); }

    template <class R>
    std::span<const R> all() const {
        return records<R>().all();
    }
    template <class R>
    const R* find(const Id& id) const {
        return records<R>().find(id);
    }
    template <class R>
    const R* find(const std::optional<Id>& id) const {
        return records<R>().find(id);
    }
    template <class R>
    std::optional<std::uint32_t> place(const Id& id) const {
        return records<R>().place(id);
    }
    // When the record at `place` was made. Requires: place < all<R>().size().
    template <class R>
    const MadeRank& rank(std::uint32_t place) const {
        return records<R>().rank(place);
    }

    // Every kind that has a record of this id: one, unless copies were merged that each made it anew.
    std::vector<Kind> kinds_of(const Id& id) const;
    std::optional<Kind> kind_of(const Id& id) const;
    bool has(Kind kind, const Id& id) const;
    std::size_t count(Kind kind) const;
    // Requires: has(kind, id).
    const MadeRank& rank(Kind kind, const Id& id) const;

    // ---- change; used by apply alone ----

    // Makes an empty record. Requires: !has(kind, id).
    void make(Kind kind, const Id& id, const MadeRank& rank);
    // Requires: has(kind, id). The JobInfo record cannot be removed.
    void remove(Kind kind, const Id& id);
    // Sets a field, or clears it with null. Requires: has(kind, id) and a field of that kind.
    // Errors: what check_form says; then nothing is changed.
    Result<void> set(Kind kind, const Id& id, const FieldInfo& field, const Value& value);
    // What a field holds; null when absent. Requires: has(kind, id).
    Value get(Kind kind, const Id& id, const FieldInfo& field) const;
    // The fields a record has, in table order.
    Map fields_of(Kind kind, const Id& id) const;

private:
    template <class R>
    const Records<R>& records() const {
        return std::get<Records<R>>(records_);
    }

    std::tuple<
#define TAPWRIGHT_KIND(Type, singular, plural, title, titles, help) Records<Type>,
#define TAPWRIGHT_FIELD(member, Type, rule, title, help)
#define TAPWRIGHT_END
#include "core/job/fields.def"
        int>
        records_;
};

// The id of the one JobInfo record.
const Id& job_id();

// What people call a record: its name or label; a link with another system by what that does ("Paging"); else its id.
std::string name_of(const Job& job, const Id& id);
std::string what_it_does(InterfaceKind kind);
std::string name_of(const Job& job, const std::optional<Id>& id);

// ---- what holds where a field is absent (records.md) ----
struct Defaults {
    static constexpr Volts line_v{70.7};
    static constexpr Percent reserve_pct{20};
    static constexpr Percent ohms_tol_pct{20};
    static constexpr Percent baseline_tol_pct{5};
    static constexpr Decibels loss_limit_db{1};
    static constexpr Hertz test_hz{1000};
    static constexpr Celsius cable_c{20};
};
// The line voltage of a zone: its own, else its channel's, else the job's.
Volts line_voltage(const Job& job, const Zone& zone);
// Whether a point is there on site. A plan or a cable end is not: only what was fitted, tested, found there, heard or
// has a tap.
bool is_fitted(const Point& point);

Volts line_voltage(const Job& job);

}  // namespace tapwright
