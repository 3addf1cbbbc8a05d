// Which batches are known, numbered 0, 1, 2 ... in the order they came, and how many ops each has.
#pragma once

#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "core/journal/log.h"

namespace tapwright {

class BatchIndex {
public:
    // Returns: the batch's number, or nothing when it is not known.
    std::optional<std::uint32_t> find(BatchAddress address) const;
    // The n of the latest known batch of `writer`; 0 when it has none.
    std::uint32_t last_n(Writer writer) const;
    std::uint32_t op_count(std::uint32_t number) const { return op_counts_[number]; }
    bool has(OpAddress address) const;
    std::size_t size() const { return op_counts_.size(); }

    // Refuses a batch whose writer's previous one, whose parents or whose `undoes` is not known. A parent may also be
    // an earlier op of the batch itself. Requires: the batch is not known.
    Result<void> check_follows(const Batch& batch) const;
    // Returns: its number. Requires: check_follows(batch).
    std::uint32_t add(const Batch& batch);

private:
    std::unordered_map<Writer, std::vector<std::uint32_t>> numbers_;  // [n - 1]
    std::vector<std::uint32_t> op_counts_;
};

}  // namespace tapwright
