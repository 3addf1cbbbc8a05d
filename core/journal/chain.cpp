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
    TAPWRIGHT_PASS(check_form(batch));
    const auto me = [&] { return code(address_text(batch.address())); };
    if (hash_of(batch) != batch.hash)
        return Refusal{Message("Change {address} does not match its hash.", {{"address", me()}})};
    if (batch.prev.empty() && !hashes_.empty())
        return Refusal{Message("Change {address} starts another job.", {{"address", me()}})};
    if (!batch.prev.empty() && hashes_.empty())
        return Refusal{Message("Change {address} has no predecessor here.", {{"address", me()}})};
    for (const Digest& hash : batch.prev)
        if (!has(hash))
            return Refusal{Message("Change {address} follows change {hash}, which is not here.",
                                   {{"address", me()}, {"hash", code(hex(hash).substr(0, 16))}})};
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
