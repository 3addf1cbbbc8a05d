// The oracle's lines: what is connected where, what it draws, and the impedance looking out, by a small ladder of its
// own. Conductances only: every attenuator is an autotransformer, and cable is known by its ohms per km.
#pragma once

#include <functional>

#include "tests/oracle/oracle.h"

namespace tapwright::oracle {

Figure number(const Json& record, const char* key);
std::string text(const Json& record, const char* key);

class Lines {
public:
    explicit Lines(const Json& job) : job_(job) {}

    const Json& all(const char* kind) const;
    const Json* find(const char* kind, const std::string& id) const;
    double of_job(const char* key, double otherwise) const { return number(job_["job"], key).value_or(otherwise); }

    double line_v(const Json& zone) const;
    bool is_low_impedance(const Json& zone) const { return text(zone, "output") == "low_z"; }
    bool is_emergency(const Json& zone) const { return text(zone, "emergency") == "yes"; }
    // The zone a point hangs in; "" where it is not traced to one.
    std::string zone_of(const Json& point) const;
    // Loudspeakers that count: all of a zone but those recorded as not connected; none of an emergency zone.
    std::vector<const Json*> speakers_of(const std::string& zone) const;
    static bool is_connected(const Json& point);

    // Watts at the zone's line voltage; nothing where no tap is known. The least: on the smallest tap of its type.
    Figure drawn(const Json& point, const Json& zone) const;
    Figure least_drawn(const Json& point, const Json& zone) const;

    // Siemens looking out of the amplifier into a zone. `hangs`: which loudspeakers draw. `knobs`: positions that hold
    // instead of those as left; nothing: every attenuator at 0 dB.
    using Hangs = std::function<bool(const Json& point)>;
    double siemens(const Json& zone, const Hangs& hangs, const Json* knobs) const;

private:
    double behind(const Json& zone, const std::string& feed, bool is_output, const Hangs& hangs,
                  const Json* knobs) const;
    double looking_in(const Json& zone, const Json& point, const Hangs& hangs, const Json* knobs) const;
    double run_ohm(const Json& point) const;

    const Json& job_;
};

}  // namespace tapwright::oracle
