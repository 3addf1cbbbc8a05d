#include "core/journal/chain.h"

#include <algorithm>
#include <cstring>

namespace tapwright {

std::size_t Chain::Shorten::operator()(const Digest& hash) const {
    std::size_t start = 0;
    std::memcpy(&start, hash.data(), sizeof start);
    return start;
}

Result<void> Chain::check(const Batch& batch) const {
    if (auto fine = check_form(batch); !fine) return fine;
    const std::string me = "Change " + address_text(batch.address());
    if (hash_of(batch) != batch.hash) return Refusal{me + " does not match its hash."};
    if (batch.prev.empty() != hashes_.empty())
        return Refusal{me + (batch.prev.empty() ? " starts another job." : " has no predecessor here.")};
    for (const Digest& hash : batch.prev)
        if (!has(hash)) return Refusal{me + " follows change " + hex(hash).substr(0, 16) + "..., which is not here."};
    return index_.check_follows(batch);
}

void Chain::add(const Batch& batch) {
    index_.add(batch);
    hashes_.push_back(batch.hash);
    known_.insert(batch.hash);
    for (const Digest& hash : batch.prev) tips_.erase(hash);
    tips_.insert(batch.hash);
    last_clock_ = std::max(last_clock_, batch.clock);
    op_count_ += batch.ops.size();
}

Digest Chain::content() const {
    std::vector<Digest> sorted = hashes_;
    std::sort(sorted.begin(), sorted.end());
    Sha256 sum;
    for (const Digest& hash : sorted) sum.add(hash);
    return sum.finish();
}

}  // namespace tapwright
