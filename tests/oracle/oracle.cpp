#include "tests/oracle/oracle.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "tests/oracle/lines.h"

namespace tapwright::oracle {
namespace {

constexpr double open_line = 1e9;

class Model : private Lines {
public:
    Model(const Json& job, const Order& order) : Lines(job), order_(order) {}

    Answer answer();

private:
    // What a zone's figures rest on.
    struct Account {
        double unrecorded = 0;
        bool is_open_ended = false;
    };

    int made(const Json& record) const;
    bool was_there(const Json& point, const Json& reading) const;
    double found_by(const std::string& reading, const Json* before) const;
    bool is_behind_off(const Json& point, const Json& reading) const;

    Place load_of(const Json& zone) const;
    void set_limit(Place& place, const Json& record, const char* key) const;
    Place sum_of(const Json& record, const char* link, const std::vector<Place>& parts, const char* kind) const;
    Figure least_limit(const Json& zone) const;

    bool speaks_against(const Json& reading, double expected, bool is_anything_connected) const;
    bool has_stray_volts(const Json& reading) const;
    Reading judge(const Json& reading, const std::vector<Reading>& before) const;
    std::string verdict(const Json& reading, const Json& zone, double expected, double smallest,
                        const std::vector<Reading>& before) const;
    Json positions(const Json& reading) const;
    bool has_drifted(const Json& reading, double expected, const std::vector<Reading>& before) const;

    Account account_of(const Json& zone, const std::vector<Reading>& readings) const;
    bool is_in_a_reading(const Json& point, const std::vector<Reading>& readings) const;
    Figure can_add(const Json& zone, const Answer& answer, const std::set<std::string>& open_ended) const;

    const Order& order_;
};

// ---- loads ----

Figure ohms_of(double siemens) {
    return siemens > 0 ? Figure(1 / siemens) : Figure();
}

Place Model::load_of(const Json& zone) const {
    Place place;
    place.id = zone["id"];
    const bool has_sum = !is_low_impedance(zone) && !is_emergency(zone);
    if (has_sum) place.load = 0;
    bool has_plan = false, has_unknown = is_emergency(zone);
    for (const Json* point : speakers_of(place.id)) {
        const Figure watts = drawn(*point, zone);
        has_unknown |= !watts || !has_sum;
        has_plan |= watts && !point->contains("tap_w");
        if (has_sum) *place.load += watts.value_or(0);
        (is_connected(*point) ? place.connected : place.planned)++;
    }
    place.basis = has_unknown ? "at_least" : has_plan ? "planned" : "as_built";
    const Json as_left = Json::object();
    place.ohms = ohms_of(siemens(zone, is_connected, &as_left));
    place.ohms_full = ohms_of(siemens(zone, is_connected, nullptr));
    place.ohms_all = ohms_of(siemens(
        zone, [](const Json&) { return true; }, &as_left));
    if (has_sum) set_limit(place, zone, "limit_w");
    return place;
}

void Model::set_limit(Place& place, const Json& record, const char* key) const {
    place.limit = number(record, key);
    if (place.limit) place.reserve = *place.limit * of_job("reserve_pct", 20) / 100;
}

// Adds up what hangs on an output or an amplifier. `kind`: that of the parts, which name it under `link`.
Place Model::sum_of(const Json& record, const char* link, const std::vector<Place>& parts, const char* kind) const {
    Place place;
    place.id = record["id"];
    place.basis = "as_built";
    place.load = 0;
    for (const Place& part : parts) {
        if (text(*find(kind, part.id), link) != place.id) continue;
        *place.load += part.load.value_or(0);
        place.unrecorded += part.unrecorded;
        if (part.basis == "at_least" || (part.basis == "planned" && place.basis == "as_built"))
            place.basis = part.basis;
    }
    set_limit(place, record, "rated_w");
    return place;
}

Figure Model::least_limit(const Json& zone) const {
    if (is_low_impedance(zone)) return {};  // no limit in watts
    const Json* channel = find("channels", text(zone, "channel"));
    const Json* amplifier = channel ? find("amplifiers", text(*channel, "amplifier")) : nullptr;
    Figure least = number(zone, "limit_w");
    for (const Json* source : {channel, amplifier})
        if (const Figure rated = source ? number(*source, "rated_w") : Figure())
            least = std::min(least.value_or(*rated), *rated);
    return least;
}

// ---- readings ----

int Model::made(const Json& record) const {
    const auto at = order_.made.find(record["id"]);
    return at == order_.made.end() ? -1 : at->second;
}

bool Model::was_there(const Json& point, const Json& reading) const {
    // It came into the record after the reading named there, and so after every one before that.
    bool is_reached = false;
    for (const Json& other : all("readings")) {
        is_reached |= other["id"] == reading["id"];
        if (is_reached && text(point, "found_by") == other["id"]) return false;
    }
    return made(point) <= made(reading) || (made(point) == -1 && made(reading) == -1);
}

// Whether an attenuator before it was off while the reading was taken.
bool Model::is_behind_off(const Json& point, const Json& reading) const {
    const Json stood = positions(reading);
    const Json* at = &point;
    for (std::size_t i = 0; i < all("points").size(); ++i) {
        const Json* feed = find("points", text(*at, "fed_from"));
        if (!feed) return false;
        const bool is_output = (*feed)["kind"] == "attenuator" && text(*at, "feed_side") != "in";
        if (is_output && stood.value((*feed)["id"].get<std::string>(), Json()) == "off") return true;
        at = feed;
    }
    return false;
}

// Watts found of what a reading showed, before another was taken; all where there is no other. What the other could
// not show, as it hung behind an attenuator that was off, is taken as found before it: no file tells.
double Model::found_by(const std::string& reading, const Json* before) const {
    double watts = 0;
    const std::string zone = text(*find("readings", reading), "at");
    for (const Json& point : all("points")) {
        if (text(point, "found_by") != reading) continue;
        if (zone_of(point) != zone) continue;  // fed from elsewhere by now: what the zone drew is to be found again
        const auto at = order_.found.find(point["id"]);
        const int when = at == order_.found.end() ? -1 : at->second;
        if (!before || made(*before) < 0 || when < made(*before) || is_behind_off(point, *before))
            watts += number(point, "found_w").value_or(0);
    }
    return watts;
}

bool Model::has_stray_volts(const Json& reading) const {
    Figure last;
    for (const Json& other : all("readings")) {
        if (&other == &reading) break;
        const bool same_day = text(other, "time").substr(0, 10) == text(reading, "time").substr(0, 10);
        const bool same_visit = !text(other, "visit").empty() && text(other, "visit") == text(reading, "visit");
        if (other["quantity"] == "stray_v" && other["at"] == reading["at"] && (same_day || same_visit))
            last = number(other, "value");
    }
    return last && *last >= 1;
}

bool Model::speaks_against(const Json& reading, double expected, bool is_anything_connected) const {
    if (reading.contains("isolated") && !reading["isolated"].get<bool>()) return true;
    if (!text(reading, "signal").empty() && text(reading, "signal") != "none") return true;
    const double hz = number(reading, "hz").value_or(of_job("test_hz", 1000));
    if (hz < 300 || hz > 1500) return true;
    if (reading.value("over_range", false) && is_anything_connected &&
        !(number(reading, "range_ohm").value_or(0) >= 3 * expected))
        return true;
    return has_stray_volts(reading);
}

// How the attenuators stood: as the reading says, else as left, else at 0 dB.
Json Model::positions(const Json& reading) const {
    Json positions = Json::object();
    const Json given = reading.value("knobs", Json::object());
    for (const Json& point : all("points"))
        if (point["kind"] == "attenuator" && zone_of(point) == reading["at"])
            positions[point["id"].get<std::string>()] =
                given.value(point["id"].get<std::string>(), point.value("knob_db", Json(0.0)));
    return positions;
}

bool Model::has_drifted(const Json& reading, double expected, const std::vector<Reading>& before) const {
    if (reading.value("baseline", false)) return false;
    const Json* baseline = nullptr;
    Figure expected_then;
    for (const Reading& other : before) {
        const Json* record = find("readings", other.id);
        if (other.at != reading["at"] || !other.is_valid || !record->value("baseline", false)) continue;
        if (!record->contains("value")) continue;  // over range there is nothing to compare with
        baseline = record;
        expected_then = other.expected;
    }
    if (!baseline) return false;
    bool same = true;
    for (const char* key : {"instrument", "override"})
        same &= baseline->value(key, Json()) == reading.value(key, Json());
    const auto hz = [&](const Json& of) { return number(of, "hz").value_or(of_job("test_hz", 1000)); };
    same &= hz(*baseline) == hz(reading) && positions(*baseline) == positions(reading);
    // Where something else was expected then, by how far each lies from what was expected of it.
    const bool rescaled = expected < open_line && expected_then && *expected_then < open_line;
    const double then = *number(*baseline, "value") * (rescaled ? expected / *expected_then : 1);
    const double ratio = *number(reading, "value") / then;
    return std::abs(ratio - 1) * 100 > (same ? of_job("baseline_tol_pct", 5) : 10);
}

// Requires: nothing speaks against the reading. `smallest`: the least of the taps there, in siemens.
std::string Model::verdict(const Json& reading, const Json& zone, double expected, double smallest,
                           const std::vector<Reading>& before) const {
    const bool expects_open = expected >= open_line;
    if (reading.value("over_range", false)) return expects_open ? "agrees" : "open";
    const double ohms = *number(reading, "value");
    // Where attenuators make it as little as that, it is compared like any other.
    const bool expects_next_to_nothing = 1 / expected < smallest / 4;
    if (1 / ohms < smallest / 4 && expects_open) return "agrees";
    if (1 / ohms < smallest / 4 && !expects_next_to_nothing) return "open";
    const Figure limit = least_limit(zone);
    const double measured_w = line_v(zone) * line_v(zone) / ohms;
    if (!expects_open && ohms < expected / 4 && (!limit || measured_w > *limit)) return "short";
    const double band = of_job("ohms_tol_pct", 20) / 100;
    if (ohms < expected * (1 - band)) return "more_load";
    if (ohms > expected * (1 + band)) return "less_load";
    return has_drifted(reading, expected, before) ? "drifted" : "agrees";
}

Reading Model::judge(const Json& reading, const std::vector<Reading>& before) const {
    const Json& zone = *find("zones", reading["at"]);
    const double volts = line_v(zone);
    double watts = 0, smallest = 0;
    bool has_unknown = false, is_anything_connected = false;
    for (const Json* point : speakers_of(zone["id"])) {
        if (!is_connected(*point) || !was_there(*point, reading)) continue;
        const Figure draws = drawn(*point, zone);
        is_anything_connected = true;
        has_unknown |= !draws;
        watts += draws.value_or(0);
        // A tap nobody knows is at least the smallest its type offers.
        const Figure least = draws ? draws : least_drawn(*point, zone);
        if (least) smallest = smallest > 0 ? std::min(smallest, *least) : *least;
    }
    if (!(smallest > 0)) smallest = 0.25;  // what loudspeakers commonly have at the least
    const Json knobs = reading.value("knobs", Json::object());
    const auto was_connected = [&](const Json& point) { return is_connected(point) && was_there(point, reading); };
    const Figure today = ohms_of(siemens(zone, was_connected, &knobs));
    const double known = number(reading, "expected_ohm").value_or(today.value_or(open_line));
    Reading result{reading["id"], reading["at"], false, false, "not_judged", {}, known, {}};
    if (!has_unknown) result.expected = known;
    const Figure ohms = number(reading, "value");
    if (ohms && !is_low_impedance(zone)) result.measured_w = volts * volts / *ohms;
    // Where an open line was expected then, whatever is known of the loudspeakers now must have shown on the range: all
    // that is known together, else the smallest there can be.
    const double shows = known < open_line ? known : volts * volts / (watts > 0 ? watts : smallest);
    if (is_emergency(zone) || speaks_against(reading, shows, is_anything_connected)) return result;
    result.is_believed = true;
    result.is_valid = reading.value("isolated", false);
    const double smallest_s = smallest / (volts * volts);
    const bool is_open = reading.value("over_range", false) || (ohms && 1 / *ohms < smallest_s / 4);
    if (has_unknown)
        result.verdict = is_open ? "open" : "not_judged";
    else
        result.verdict = verdict(reading, zone, known, smallest_s, before);
    return result;
}

// ---- what readings show beyond the record ----

bool Model::is_in_a_reading(const Json& point, const std::vector<Reading>& readings) const {
    const std::string zone = zone_of(point);
    // 0 W found by a reading: no part of it, nor of any before.
    bool came_later = number(point, "found_w") == 0.0;
    for (const Reading& reading : readings) {
        if (came_later) {
            came_later = reading.id != text(point, "found_by");
            continue;
        }
        if (reading.at != zone || !reading.is_valid || reading.verdict == "open" || !reading.measured_w) continue;
        // One that is recorded as not connected draws nothing yet, whatever a reading showed.
        if (!is_connected(point)) continue;
        if (text(point, "origin") == "existing" || was_there(point, *find("readings", reading.id))) return true;
    }
    return false;
}

Model::Account Model::account_of(const Json& zone, const std::vector<Reading>& readings) const {
    const double volts = line_v(zone);
    std::string standing;
    double beyond = 0;
    for (const Reading& reading : readings) {
        if (reading.at != zone["id"] || reading.verdict == "open" || !reading.measured_w) continue;
        const Json& record = *find("readings", reading.id);
        const double own = *reading.measured_w - (reading.known < open_line ? volts * volts / reading.known : 0);
        const double stood = standing.empty() ? 0 : std::max(0.0, beyond - found_by(standing, &record));
        const bool has_unknown = reading.is_believed && reading.verdict == "not_judged";
        const bool shows_more = has_unknown || reading.verdict == "more_load" || reading.verdict == "short";
        const bool is_low = std::max(0.0, own) <= stood;
        const bool takes_over =
            reading.is_valid ? shows_more || is_low : reading.is_believed && shows_more && own > stood;
        if (!takes_over) continue;
        standing = reading.id;
        beyond = own;
    }
    Account account;
    if (!standing.empty()) account.unrecorded = std::max(0.0, beyond - found_by(standing, nullptr));
    const std::vector<const Json*> speakers = speakers_of(zone["id"]);
    account.is_open_ended = is_emergency(zone) || (is_low_impedance(zone) && !speakers.empty());
    for (const Json* point : speakers)
        account.is_open_ended |= !drawn(*point, zone) && !is_in_a_reading(*point, readings);
    return account;
}

Figure headroom_of(const Place& place) {
    if (!place.limit || !place.load) return {};
    return *place.limit - *place.reserve - *place.load - place.unrecorded;
}

Figure Model::can_add(const Json& zone, const Answer& answer, const std::set<std::string>& open_ended) const {
    if (is_low_impedance(zone) || is_emergency(zone)) return {};
    const auto place_of = [](const std::vector<Place>& places, const std::string& id) -> std::optional<Place> {
        for (const Place& place : places)
            if (place.id == id) return place;
        return {};
    };
    std::optional<Place> output = place_of(answer.channels, text(zone, "channel"));
    const Json* channel = output ? find("channels", output->id) : nullptr;
    std::optional<Place> amplifier = channel ? place_of(answer.amplifiers, text(*channel, "amplifier")) : std::nullopt;
    if (output && amplifier) {
        int outputs = 0;
        for (const Json& other : all("channels")) outputs += text(other, "amplifier") == amplifier->id;
        if (outputs == 1 && !output->limit) set_limit(*output, *find("amplifiers", amplifier->id), "rated_w");
        if (outputs == 1 && !amplifier->limit) set_limit(*amplifier, *channel, "rated_w");
    }
    double least = HUGE_VAL;
    bool is_known = true;
    for (const auto& place : {place_of(answer.zones, zone["id"]), output, amplifier}) {
        const Figure headroom = place ? headroom_of(*place) : Figure();
        is_known &= headroom.has_value() && !open_ended.contains(place->id);
        least = std::min(least, headroom.value_or(least));
    }
    if (least <= 0) return 0;
    return is_known ? Figure(least) : Figure();
}

Answer Model::answer() {
    Answer answer;
    for (const Json& reading : all("readings"))
        if (reading["quantity"] == "ohms" && find("zones", reading["at"]))
            answer.readings.push_back(judge(reading, answer.readings));
    std::set<std::string> open_ended;
    for (const Json& zone : all("zones")) {
        Place place = load_of(zone);
        const Account account = account_of(zone, answer.readings);
        place.headroom_recorded = headroom_of(place);
        place.unrecorded = account.unrecorded;
        place.headroom = headroom_of(place);
        answer.zones.push_back(place);
        if (!account.is_open_ended) continue;
        const std::string channel = text(zone, "channel");
        open_ended.insert(place.id);
        open_ended.insert(channel);
        if (const Json* output = find("channels", channel)) open_ended.insert(text(*output, "amplifier"));
    }
    for (const Json& channel : all("channels"))
        answer.channels.push_back(sum_of(channel, "channel", answer.zones, "zones"));
    for (const Json& amplifier : all("amplifiers"))
        answer.amplifiers.push_back(sum_of(amplifier, "amplifier", answer.channels, "channels"));
    for (auto* places : {&answer.channels, &answer.amplifiers})
        for (Place& place : *places) place.headroom = headroom_of(place);
    for (std::size_t i = 0; i < answer.zones.size(); ++i)
        answer.zones[i].can_add = can_add(all("zones")[i], answer, open_ended);
    return answer;
}

}  // namespace

Answer answer(const Json& job, const Order& order) {
    return Model(job, order).answer();
}

}  // namespace tapwright::oracle
