// One copy of a job in memory, without a file: what tests of merging and undo are written with.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "core/journal/chain.h"
#include "core/journal/replica.h"
#include "core/journal/undo.h"

namespace tapwright::test {

Op op(std::string kind, std::string id, std::string field, std::string value, std::vector<OpAddress> parents = {});

// A batch as a command hands it to append(): no n, prev or hash yet.
// For an opening whose batches are not looked at.
inline Result<void> look_away(const Batch&) {
    return done();
}

Batch draft(Writer writer, std::vector<Op> ops, std::string person = "Ana", std::int64_t clock = 1);

class Copy {
public:
    explicit Copy(Writer writer) : writer_(writer) {}
    // The same content under another writer: a file copied, then opened for writing.
    Copy copied(Writer writer) const;

    const Replica& replica() const { return replica_; }
    const std::vector<Batch>& log() const { return log_; }
    const Batch& last() const { return log_.back(); }
    OpLookup lookup() const;

    // The clock moves on by itself; set it back or forward at will.
    void set_clock(std::int64_t clock) { clock_ = clock; }
    BatchAddress commit(std::vector<Op> ops, std::string person = "Ana", std::optional<BatchAddress> undoes = {});
    BatchAddress make(std::string_view id, std::string_view field, std::string value, std::string person = "Ana");
    BatchAddress set(std::string_view id, std::string_view field, std::string value, std::string person = "Ana");
    BatchAddress remove(std::string_view id, std::string person = "Ana");
    Result<UndoPlan> plan(BatchAddress batch) const;
    // Plans and commits. Requires: there is something to restore.
    BatchAddress undo(BatchAddress batch, std::string person = "Ana");
    // Takes all batches of `other` that are not here.
    void merge(const Copy& other);
    void take(const Batch& batch);

    // All that a replica says, in one text that does not depend on the order in which batches came.
    std::string content() const { return content_of(replica_); }
    static std::string content_of(const Replica& replica);

    // "7.5", "(none)", or "(absent)" when point `id` is not there.
    std::string value(std::string_view id, std::string_view field) const;
    bool present(std::string_view id) const;

private:
    Writer writer_;
    std::int64_t clock_ = 1;
    Replica replica_;
    Chain chain_;
    std::vector<Batch> log_;
    std::map<BatchAddress, std::size_t> places_;
};

}  // namespace tapwright::test
