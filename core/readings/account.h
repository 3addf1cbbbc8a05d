// The account of a zone: how much is drawn there that nobody recorded, and which reading says so. Readings are entered
// in the order they were taken; what each shows beyond the record of its time is held against what was known before it.
// Definition: docs/calculations.md, "Unrecorded". Used within core/readings.
#pragma once

#include <optional>
#include <vector>

#include "core/readings/assessment.h"

namespace tapwright {

// What was found since the reading an account rests on, as a later reading could show that it is in the record.
struct FoundSince {
    Watts hidden{0};    // behind an attenuator that was off at the later one: nothing tells when it was found
    Watts shown{0};     // the rest
    Watts arriving{0};  // what of `shown` the line draws, attenuators as they stood at the later one
};

class Account {
public:
    // Requires: at the zone, judged; taken after every reading entered before. `found`: watts recorded since as part of
    // what this reading showed. `earlier`: what was found since standing().
    void enter(std::uint32_t reading, const Assessment& assessment, Watts found, const FoundSince& earlier);

    // The reading that shows what is unrecorded.
    std::optional<std::uint32_t> standing() const {
        return standing_ ? std::optional(standing_->reading) : std::nullopt;
    }

    // The reading the account rests on: the one that shows what is unrecorded, else the latest that is believed.
    std::optional<std::uint32_t> reading() const { return standing_ ? std::optional(standing_->reading) : latest_; }
    // The latest that is believed.
    std::optional<std::uint32_t> latest() const { return latest_; }
    // The latest valid one: a tap that was not known when it was taken is inside it.
    std::optional<std::uint32_t> latest_valid() const { return latest_valid_; }
    // What is still not recorded of it.
    Watts unrecorded() const;

private:
    struct Entry {
        std::uint32_t reading = 0;
        Watts beyond{0};    // measured beyond the record of its time
        Watts recorded{0};  // by that record
        Watts found{0};     // recorded since
    };
    Watts before(const Entry& now, const FoundSince& earlier) const;

    std::optional<Entry> standing_;
    std::optional<std::uint32_t> latest_;
    std::optional<std::uint32_t> latest_valid_;
};

}  // namespace tapwright
