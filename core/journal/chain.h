// Which batches a file holds and that each follows what it must: the writer's previous one, what it names in prev,
// parents and undoes. And which batches nothing follows yet. Private to core/journal.
#pragma once

#include <set>
#include <unordered_set>
#include <vector>

#include "core/journal/batch_index.h"
#include "core/journal/log.h"

namespace tapwright {

class Chain {
public:
    std::size_t size() const { return hashes_.size(); }
    const BatchIndex& index() const { return index_; }
    // By number, that is, in the order they came into the file.
    const std::vector<Digest>& hashes() const { return hashes_; }
    std::int64_t last_clock() const { return last_clock_; }
    std::size_t op_count() const { return op_count_; }
    // The hashes of the batches nothing follows yet, ascending: the next batch's prev.
    std::vector<Digest> tips() const { return {tips_.begin(), tips_.end()}; }
    bool has(const Digest& hash) const { return known_.contains(hash); }

    // Refuses a batch of wrong form, with a wrong hash, or whose predecessors are not all here.
    // Requires: its address is not known.
    Result<void> check(const Batch& batch) const;
    // Requires: check(batch).
    void add(const Batch& batch);
    // One hash over all hashes, ascending.
    Digest content() const;

private:
    struct Shorten {
        std::size_t operator()(const Digest& hash) const;
    };
    BatchIndex index_;
    std::vector<Digest> hashes_;
    std::unordered_set<Digest, Shorten> known_;
    std::set<Digest> tips_;
    std::int64_t last_clock_ = 0;
    std::size_t op_count_ = 0;
};

}  // namespace tapwright
