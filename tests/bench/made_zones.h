// Zones of equal loudspeakers in a row, for benchmarks of the window.
#pragma once

#include <string>

#include "tests/session/temporary.h"

namespace tapwright::bench {

struct MadeZones {
    int zones, per_zone, rooms;
    double limit_w;
};

// On output "c1" with type "t1" and cable "k1", which are in `changes` already; rooms taken in turn.
inline void append(const MadeZones& made, ChangeList& changes) {
    using test::add;
    for (int i = 0; i < made.rooms; ++i)
        changes.push_back(add(Kind::room, "r" + std::to_string(i), {{"name", "Room " + std::to_string(i)}}));
    for (int zone = 0; zone < made.zones; ++zone) {
        const std::string id = "z" + std::to_string(zone);
        changes.push_back(
            add(Kind::zone, id,
                {{"name", "Zone " + id}, {"channel", "c1"}, {"limit_w", made.limit_w}, {"emergency", "no"}}));
        std::string feed = id;
        for (int i = 0; i < made.per_zone; ++i) {
            const int number = zone * made.per_zone + i;
            const std::string point = "p" + std::to_string(number);
            changes.push_back(add(Kind::point, point,
                                  {{"kind", "speaker"},
                                   {"label", "C-" + std::to_string(number)},
                                   {"room", "r" + std::to_string(number % made.rooms)},
                                   {"fed_from", feed},
                                   {"cable", "k1"},
                                   {"length_m", 5.0},
                                   {"type", "t1"},
                                   {"tap_w", 5.0}}));
            feed = point;
        }
    }
}

}  // namespace tapwright::bench
