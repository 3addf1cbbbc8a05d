// Directory: from an Id to its place in a list. An open-addressing table over the hash an Id already carries; derive()
// asks it some 40,000 times for a job of ten thousand loudspeakers, within a few hundred microseconds.
#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "core/job/id.h"

namespace tapwright {

// Takes the items at these places out of a list. Requires: the places rise, and each is in the list.
template <class T>
void without(std::vector<T>& list, const std::vector<std::uint32_t>& places) {
    if (places.empty()) return;
    auto to = list.begin() + places.front();
    for (std::size_t i = 0; i < places.size(); ++i) {
        const auto end = i + 1 < places.size() ? list.begin() + places[i + 1] : list.end();
        to = std::move(list.begin() + places[i] + 1, end, to);
    }
    list.erase(to, list.end());
}

class Directory {
public:
    std::optional<std::uint32_t> find(const Id& id) const {
        if (slots_.empty()) return std::nullopt;
        for (std::size_t at = id.hash() & mask();; at = (at + 1) & mask()) {
            const Slot& slot = slots_[at];
            if (slot.place == nowhere) return std::nullopt;
            if (slot.hash == id.hash() && ids_[slot.place] == id) return slot.place;
        }
    }

    // Adds `id` behind the last one. Requires: it is not there.
    void push_back(const Id& id) {
        ids_.push_back(id);
        if (ids_.size() * 2 > slots_.size()) grow();
        enter({id.hash(), static_cast<std::uint32_t>(ids_.size() - 1)});
    }

    // Finds `id` no more; the places of the others stay. Requires: it is there.
    void forget(const Id& id) {
        std::size_t at = id.hash() & mask();
        while (slots_[at].hash != id.hash() || ids_[slots_[at].place] != id) at = (at + 1) & mask();
        // What the gap would cut off from the start of its search moves into it (Knuth, volume 3, 6.4, algorithm R).
        for (std::size_t next = (at + 1) & mask(); slots_[next].place != nowhere; next = (next + 1) & mask()) {
            const std::size_t start = slots_[next].hash & mask();
            if (((next - start) & mask()) < ((next - at) & mask())) continue;
            slots_[at] = slots_[next];
            at = next;
        }
        slots_[at].place = nowhere;
    }

    // Takes out places whose ids were forgotten; those behind them move up. Requires: the places rise, and are all that
    // were forgotten.
    void close_gaps(const std::vector<std::uint32_t>& places) {
        without(ids_, places);
        for (Slot& slot : slots_)
            if (slot.place != nowhere)
                slot.place -= static_cast<std::uint32_t>(std::lower_bound(places.begin(), places.end(), slot.place) -
                                                         places.begin());
    }

    // Starts anew with these ids, each at its place in the list. Requires: none stands twice.
    void assign(std::vector<Id> ids) {
        ids_ = std::move(ids);
        slots_.clear();
        grow();
        for (std::uint32_t place = 0; place < ids_.size(); ++place) enter({ids_[place].hash(), place});
    }

private:
    static constexpr std::uint32_t nowhere = 0xFFFFFFFFu;
    struct Slot {
        std::uint64_t hash = 0;
        std::uint32_t place = nowhere;
    };

    std::size_t mask() const { return slots_.size() - 1; }

    void enter(const Slot& slot) {
        std::size_t at = slot.hash & mask();
        while (slots_[at].place != nowhere) at = (at + 1) & mask();
        slots_[at] = slot;
    }

    // Room for four times as many as there are.
    void grow() {
        std::size_t size = 16;
        while (size < ids_.size() * 4) size *= 2;
        std::vector<Slot> old(size);
        old.swap(slots_);
        for (const Slot& slot : old)
            if (slot.place != nowhere) enter(slot);
    }

    std::vector<Id> ids_;
    std::vector<Slot> slots_;
};

}  // namespace tapwright
