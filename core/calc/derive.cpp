#include "core/calc/derived.h"
#include "core/calc/loads.h"
#include "core/calc/wiring.h"

namespace tapwright {

Derived derive(const Job& job) {
    Derived derived;
    derived.zones.resize(job.all<Zone>().size());
    derived.channels.resize(job.all<Channel>().size());
    derived.amplifiers.resize(job.all<Amplifier>().size());
    derived.points.resize(job.all<Point>().size());
    derived.lines.resize(job.all<Zone>().size());
    derived.readings.resize(job.all<Reading>().size());

    const Wiring wiring = wire(job);
    add_loads(job, wiring, derived);
    add_headroom(job, wiring, derived);
    return derived;
}

}  // namespace tapwright
