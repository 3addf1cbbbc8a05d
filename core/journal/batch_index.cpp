#include "core/journal/batch_index.h"

#include <string>

namespace tapwright {

std::optional<std::uint32_t> BatchIndex::find(BatchAddress address) const {
    const auto found = numbers_.find(address.writer);
    if (found == numbers_.end() || address.n == 0 || address.n > found->second.size()) return std::nullopt;
    return found->second[address.n - 1];
}

std::uint32_t BatchIndex::last_n(Writer writer) const {
    const auto found = numbers_.find(writer);
    return found == numbers_.end() ? 0 : static_cast<std::uint32_t>(found->second.size());
}

bool BatchIndex::has(OpAddress address) const {
    const auto number = find(address.batch());
    return number && address.index < op_counts_[*number];
}

Result<void> BatchIndex::check_follows(const Batch& batch) const {
    const auto me = [&] { return code(address_text(batch.address())); };
    if (batch.n != last_n(batch.writer) + 1)
        return Refusal{
            Message("Change {address} is here without the change before it, {missing}.",
                    {{"address", me()},
                     {"missing", code(address_text(BatchAddress{batch.writer, last_n(batch.writer) + 1}))}})};
    if (batch.undoes && !find(*batch.undoes))
        return Refusal{Message("Change {address} undoes {missing}, which is not here.",
                               {{"address", me()}, {"missing", code(address_text(*batch.undoes))}})};
    for (std::size_t index = 0; index < batch.ops.size(); ++index)
        for (const OpAddress parent : batch.ops[index].parents) {
            const bool is_own = parent.batch() == batch.address() && parent.index < index;
            if (!is_own && !has(parent))
                return Refusal{Message("Change {address} replaces {missing}, which is not here.",
                                       {{"address", me()}, {"missing", code(address_text(parent))}})};
        }
    return done();
}

std::uint32_t BatchIndex::add(const Batch& batch) {
    const auto number = static_cast<std::uint32_t>(op_counts_.size());
    numbers_[batch.writer].push_back(number);
    op_counts_.push_back(static_cast<std::uint32_t>(batch.ops.size()));
    return number;
}

}  // namespace tapwright
