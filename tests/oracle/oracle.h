// The calculation once more, from the records' definitions alone: loads, headroom, what may be added, and what a
// reading means. It shares no line with core: it reads the exported JSON with another parser and knows nothing of the
// program.
//
// It knows zones with cable and autotransformer attenuators, low-impedance and emergency zones, in conductances without
// a frequency. Requires: the JSON is one that export wrote; every loudspeaker is wired to the line or off, or says
// nothing of it; cable types give ohm_per_km; no attenuator is an L-pad; readings are of zones; what belongs to an
// emergency system is a whole zone.
#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

namespace tapwright::oracle {

using Json = nlohmann::json;
using Figure = std::optional<double>;

// A zone, an output or an amplifier.
struct Place {
    std::string id;
    std::string basis;
    Figure load;  // nothing for a zone that has no sum of taps: low impedance, emergency
    double unrecorded = 0;
    Figure limit, reserve, headroom;
    // Of a zone alone.
    Figure headroom_recorded, can_add, ohms, ohms_full, ohms_all;
    int connected = 0;
    int planned = 0;
};

struct Reading {
    std::string id;
    std::string at;
    bool is_believed = false;  // nothing speaks against it
    bool is_valid = false;     // and both conductors were disconnected
    std::string verdict;
    Figure expected;   // of all that was connected; absent where some tap is unknown
    double known = 0;  // of those whose tap was known
    Figure measured_w;
};

struct Answer {
    std::vector<Place> zones, channels, amplifiers;
    std::vector<Reading> readings;  // of ohms at a zone
};

// When each record was made and each found loudspeaker was found, by id, as any rising numbers. A file does not tell:
// there every point comes before every reading, and what is not named here does too.
struct Order {
    std::map<std::string, int> made;
    std::map<std::string, int> found;
};

Answer answer(const Json& job, const Order& order = {});

}  // namespace tapwright::oracle
