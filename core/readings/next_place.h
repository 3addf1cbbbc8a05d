// Where to measure next: made when somebody asks, never by derive().
#pragma once

#include "core/calc/wiring.h"
#include "core/job/job.h"

namespace tapwright {

// The point whose branch comes nearest to half of what a reading looks into. Disconnecting the cable into it and
// measuring away from the amplifier halves where a fault can be.
struct NextPlace {
    std::uint32_t point = nowhere;  // in job.all<Point>()
    Ohms expected{0};               // there, under the conditions of the reading
    Percent of_load{0};             // the share of the load that is behind it
};

// Nothing where the reading is not one that is judged, or where fewer than three loudspeakers leave nothing to split.
// `known`: so many points were in the record when it was taken; `nowhere` for a draft, which knows all.
// Linear in the points it looks into.
std::optional<NextPlace> next_place(const Job& job, const Wiring& wiring, const Reading& reading, std::uint32_t known);
// The same for reading `place` of the job.
std::optional<NextPlace> next_place(const Job& job, const Wiring& wiring, std::uint32_t place);

}  // namespace tapwright
