// What core cannot know by itself: what time it is, and something nobody else has. The platform makes a Stamp for each
// request; ids and defaulted times come from it alone, so the same stamp gives the same facts.
#pragma once

#include <cstdint>
#include <string>

#include "core/job/id.h"
#include "core/job/kind.h"

namespace tapwright {

struct Stamp {
    std::string time;         // RFC 3339 with the local offset, for people
    std::int64_t now_ms = 0;  // milliseconds since 1970-01-01T00:00:00Z
    std::uint64_t seed = 0;   // random, fresh for every stamp

    std::string date() const { return time.substr(0, 10); }
};

// Who does it, during which visit (an id of the job, or empty).
struct Author {
    std::string person;
    std::string visit;
};

// Makes ids out of a seed: a letter for the kind and 12 letters or digits (60 bits), none that looks like another.
class IdMaker {
public:
    explicit IdMaker(std::uint64_t seed) : state_(seed) {}
    Id make(Kind kind);
    // 64 bits, never 0.
    std::uint64_t number();

private:
    std::uint64_t state_;
};

}  // namespace tapwright
