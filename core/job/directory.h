// Directory: from an Id to its place in a list. An open-addressing table over the hash an Id already carries; derive()
// asks it some 40,000 times for a job of ten thousand loudspeakers, within a few hundred microseconds.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "core/job/id.h"

namespace tapwright {

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
        if (ids_.size() * 2 > slots_.size())
            rebuild();
        else
            enter(static_cast<std::uint32_t>(ids_.size() - 1));
    }

    void insert(std::uint32_t place, const Id& id) {
        ids_.insert(ids_.begin() + place, id);
        rebuild();
    }

    void erase(std::uint32_t place) {
        ids_.erase(ids_.begin() + place);
        rebuild();
    }

    std::size_t size() const { return ids_.size(); }

private:
    static constexpr std::uint32_t nowhere = 0xFFFFFFFFu;
    struct Slot {
        std::uint64_t hash = 0;
        std::uint32_t place = nowhere;
    };

    std::size_t mask() const { return slots_.size() - 1; }

    void enter(std::uint32_t place) {
        std::size_t at = ids_[place].hash() & mask();
        while (slots_[at].place != nowhere) at = (at + 1) & mask();
        slots_[at] = {ids_[place].hash(), place};
    }

    void rebuild() {
        std::size_t size = 16;
        while (size < ids_.size() * 4) size *= 2;
        slots_.assign(size, Slot{});
        for (std::uint32_t place = 0; place < ids_.size(); ++place) enter(place);
    }

    std::vector<Id> ids_;
    std::vector<Slot> slots_;
};

}  // namespace tapwright
