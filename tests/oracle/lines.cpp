#include "tests/oracle/lines.h"

#include <algorithm>
#include <cmath>

namespace tapwright::oracle {

Figure number(const Json& record, const char* key) {
    const auto at = record.find(key);
    return at == record.end() ? Figure() : Figure(at->get<double>());
}

std::string text(const Json& record, const char* key) {
    return record.value(key, std::string());
}

const Json& Lines::all(const char* kind) const {
    static const Json none = Json::array();
    const auto at = job_.find(kind);
    return at == job_.end() ? none : *at;
}

const Json* Lines::find(const char* kind, const std::string& id) const {
    for (const Json& record : all(kind))
        if (record["id"] == id) return &record;
    return nullptr;
}

double Lines::line_v(const Json& zone) const {
    if (const Figure own = number(zone, "line_v")) return *own;
    const Json* channel = find("channels", text(zone, "channel"));
    const Figure output = channel ? number(*channel, "line_v") : Figure();
    return output.value_or(of_job("line_v", 70.7));
}

std::string Lines::zone_of(const Json& point) const {
    std::string feed = text(point, "fed_from");
    for (std::size_t i = 0; i <= all("points").size(); ++i) {
        if (find("zones", feed)) return feed;
        const Json* next = find("points", feed);
        if (!next) return {};
        feed = text(*next, "fed_from");
    }
    return {};
}

bool Lines::is_connected(const Json& point) {
    if (text(point, "wired") == "off") return false;
    const std::string state = text(point, "state");
    if (!state.empty()) return state == "fitted" || state == "tested";
    return point.contains("tap_w") || point.contains("heard") || text(point, "origin") == "existing";
}

std::vector<const Json*> Lines::speakers_of(const std::string& zone) const {
    std::vector<const Json*> speakers;
    if (is_emergency(*find("zones", zone))) return speakers;
    for (const Json& point : all("points"))
        if (point["kind"] == "speaker" && text(point, "wired") != "off" && zone_of(point) == zone)
            speakers.push_back(&point);
    return speakers;
}

// ---- what a loudspeaker draws ----

Figure Lines::drawn(const Json& point, const Json& zone) const {
    const double volts = line_v(zone);
    const Json* type = find("speaker_types", text(point, "type"));
    Figure tap = number(point, "tap_w");
    if (!tap) tap = number(point, "planned_tap_w");
    // Without a tap a loudspeaker on a low-impedance line hangs there with its own impedance.
    if (is_low_impedance(zone) && !tap && text(point, "wired").empty()) {
        const Figure ohms = type ? number(*type, "low_z_ohm") : Figure();
        return ohms ? Figure(volts * volts / *ohms) : Figure();
    }
    if (!tap || !type) return tap;
    const double ratio = volts / number(*type, "taps_v").value_or(volts);
    const double loss_db = text(*type, "tap_means") == "delivered" ? number(*type, "xfmr_loss_db").value_or(0) : 0;
    return *tap * ratio * ratio * std::pow(10, loss_db / 10);
}

Figure Lines::least_drawn(const Json& point, const Json& zone) const {
    const Json* type = find("speaker_types", text(point, "type"));
    if (!type) return {};
    Json on_least = point;
    on_least["tap_w"] = *std::min_element((*type)["taps_w"].begin(), (*type)["taps_w"].end());
    return drawn(on_least, zone);
}

// ---- the ladder ----

double Lines::run_ohm(const Json& point) const {
    const Json* cable = find("cable_types", text(point, "cable"));
    const Figure length = number(point, "length_m");
    if (!cable || !length) return 0;
    const double warmer = of_job("cable_c", 20) - 20;
    return 2 * *length / 1000 * cable->at("ohm_per_km").get<double>() * (1 + 0.00393 * warmer);
}

// What hangs on a zone or on a point: on its input terminals, or on an attenuator's output.
double Lines::behind(const Json& zone, const std::string& feed, bool is_output, const Hangs& hangs,
                     const Json* knobs) const {
    double sum = 0;
    for (const Json& point : all("points"))
        if (text(point, "fed_from") == feed && (text(point, "feed_side") != "in") == is_output)
            sum += looking_in(zone, point, hangs, knobs);
    return sum;
}

double Lines::looking_in(const Json& zone, const Json& point, const Hangs& hangs, const Json* knobs) const {
    const double volts = line_v(zone);
    const std::string id = point["id"];
    double siemens = behind(zone, id, false, hangs, knobs);
    double output = behind(zone, id, true, hangs, knobs);
    if (point["kind"] == "attenuator" && knobs) {
        Json position = knobs->value(id, Json());
        if (position.is_null()) position = point.value("knob_db", Json(0.0));
        output = position == "off" ? 0 : output * std::pow(10, position.get<double>() / 10);
    }
    siemens += output;
    if (point["kind"] == "speaker" && text(point, "wired") != "off" && hangs(point))
        siemens += drawn(point, zone).value_or(0) / (volts * volts);
    return siemens / (1 + siemens * run_ohm(point));
}

double Lines::siemens(const Json& zone, const Hangs& hangs, const Json* knobs) const {
    if (is_emergency(zone)) return 0;
    const std::string id = zone["id"];
    return behind(zone, id, false, hangs, knobs) + behind(zone, id, true, hangs, knobs);
}

}  // namespace tapwright::oracle
