#include <rapidcheck.h>

#include <algorithm>

#include "tests/oracle/random_story.h"

#include "core/job/json.h"

namespace tapwright::oracle {
namespace {

double pick(std::initializer_list<double> values) {
    return *rc::gen::elementOf(std::vector<double>(values));
}
std::string pick(std::initializer_list<const char*> values) {
    return *rc::gen::elementOf(std::vector<std::string>(values.begin(), values.end()));
}
bool once_in(int n) {
    return *rc::gen::inRange(0, n) == 0;
}

// Leaves out what is "" or 0: unknown.
void put(Map& fields, const char* key, const std::string& word) {
    if (!word.empty()) fields.emplace_back(key, word);
}
void put(Map& fields, const char* key, double figure) {
    if (figure > 0) fields.emplace_back(key, figure);
}

std::vector<std::string> ids_of(const Story& story, const char* kind) {
    std::vector<std::string> ids;
    for (const Json& record : story.exported_json().value(kind, Json::array())) ids.push_back(record["id"]);
    return ids;
}

std::string fresh(const Story& story, const char* kind, const std::string& prefix) {
    std::size_t number = story.order().made.size() + 1;
    for (const std::string& id : ids_of(story, kind))
        if (id == prefix + std::to_string(number)) ++number;
    return prefix + std::to_string(number);
}

std::vector<std::string> attenuators_of(const Story& story) {
    std::vector<std::string> ids;
    for (const Json& point : story.exported_json().value("points", Json::array()))
        if (point["kind"] == "attenuator") ids.push_back(point["id"]);
    return ids;
}

// Where a point hangs, and its run: mostly one without a length.
void put_feed(const Story& story, Map& fields) {
    std::vector<std::string> feeds = ids_of(story, "zones");
    for (const std::string& zone : ids_of(story, "zones")) feeds.push_back(zone);  // rather these
    for (const std::string& point : ids_of(story, "points")) feeds.push_back(point);
    for (const std::string& wall : attenuators_of(story)) feeds.insert(feeds.end(), 3, wall);
    if (!once_in(8)) put(fields, "fed_from", *rc::gen::elementOf(feeds));
    if (once_in(6)) put(fields, "feed_side", pick({"in", "out"}));
    put(fields, "cable", pick({"", "", "thin", "thick"}));
    put(fields, "length_m", pick({0.0, 5.0, 40.0, 250.0}));
}

// A position, "off", or nothing where nobody wrote it down.
void put_position(Map& fields, const std::string& key) {
    const int position = *rc::gen::inRange(0, 6);
    if (position == 0) fields.emplace_back(key, "off");
    if (position > 1) fields.emplace_back(key, position > 3 ? -6.0 : position == 3 ? -3.0 : 0.0);
}

Map random_attenuator(const Story& story) {
    Map fields{{"kind", "attenuator"}, {"label", "A"}};
    put_feed(story, fields);
    put(fields, "type", pick({"", "wall", "lossy"}));
    put_position(fields, "knob_db");
    return fields;
}

Map random_speaker(const Story& story) {
    Map fields{{"kind", "speaker"}, {"label", "L"}};
    put(fields, "type", pick({"s", "s", "s", "d", "m", ""}));
    put_feed(story, fields);
    put(fields, "tap_w", pick({5.0, 6.0, 6.0, 10.0, 0.0, 0.0}));
    put(fields, "planned_tap_w", pick({5.0, 6.0, 0.0, 0.0}));
    put(fields, "state", pick({"", "", "planned", "cabled", "fitted", "tested"}));
    put(fields, "origin", pick({"", "existing", "existing", "new"}));
    put(fields, "wired", pick({"", "", "", "line", "off"}));
    return fields;
}

Map random_reading(const Story& story) {
    const std::string zone = *rc::gen::elementOf(ids_of(story, "zones"));
    if (once_in(10)) return {{"at", zone}, {"quantity", "stray_v"}, {"value", pick({0.2, 1.0, 40.0})}};
    Map fields{{"at", zone}, {"quantity", "ohms"}};
    if (once_in(10)) {
        fields.emplace_back("over_range", true);
        put(fields, "range_ohm", pick({0.0, 2000.0, 20e6}));
    } else {
        double expected = 200;
        for (const Place& place : story.expected().zones)
            if (place.id == zone) expected = place.ohms.value_or(200);
        const double ratio = pick({0.1, 0.4, 0.6, 0.75, 0.85, 1.0, 1.03, 1.1, 1.3, 2.0, 40.0});
        fields.emplace_back("value", std::round(expected * ratio * 10 + 1) / 10);
    }
    const int isolated = *rc::gen::inRange(0, 8);
    if (isolated > 2) fields.emplace_back("isolated", true);
    if (isolated == 0) fields.emplace_back("isolated", false);
    if (once_in(10)) put(fields, "signal", pick({"none", "pink"}));
    if (once_in(10)) put(fields, "hz", pick({1000.0, 333.0, 1600.0, 250.0}));
    if (once_in(4)) fields.emplace_back("baseline", true);
    if (once_in(6)) put(fields, "instrument", pick({"one", "other"}));
    Map knobs;
    for (const std::string& wall : attenuators_of(story))
        if (once_in(4)) put_position(knobs, wall);
    if (!knobs.empty()) fields.emplace_back("knobs", knobs);
    return fields;
}

Map random_change(const Story& story) {
    Map fields;
    switch (*rc::gen::inRange(0, 6)) {
        case 0:
            put(fields, "state", pick({"planned", "cabled", "fitted", "tested"}));
            break;
        case 1:
            put(fields, "heard", "ok");
            break;
        case 2:
            put(fields, "wired", pick({"line", "off"}));
            break;
        case 3:
            fields.emplace_back("fed_from", *rc::gen::elementOf(ids_of(story, "zones")));
            break;
        default:
            put(fields, "tap_w", pick({5.0, 6.0, 10.0}));
    }
    return fields;
}

Map random_turn() {
    Map fields{{"label", "A"}};
    put_position(fields, "knob_db");
    return fields;
}

std::string shown(const std::string& what, const std::string& id, const Map& fields) {
    return what + " " + id + " " + compact_json(fields);
}

}  // namespace

std::unique_ptr<Story> random_start() {
    const double line_v = pick({70.7, 100});
    Map job{{"name", "Mill House"}, {"line_v", line_v}};
    put(job, "reserve_pct", pick({0.0, 10.0}));
    if (once_in(4)) job.emplace_back("cable_c", 45.0);
    ChangeList changes{test::set(Kind::job, "job", job)};
    const List taps{5.0, 6.0, 10.0};
    changes.push_back(test::add(Kind::speaker_type, "s", {{"name", "s"}, {"taps_w", taps}, {"low_z_ohm", 8.0}}));
    changes.push_back(test::add(Kind::speaker_type, "d",
                                {{"name", "d"}, {"taps_w", taps}, {"tap_means", "delivered"}, {"xfmr_loss_db", 1.0}}));
    changes.push_back(test::add(Kind::speaker_type, "m", {{"name", "m"}, {"taps_w", taps}, {"taps_v", 70.7}}));
    changes.push_back(test::add(Kind::cable_type, "thin", {{"name", "thin"}, {"ohm_per_km", 36.0}}));
    changes.push_back(test::add(Kind::cable_type, "thick", {{"name", "thick"}, {"ohm_per_km", 7.4}}));
    const List steps{0.0, -3.0, -6.0};
    for (const auto& [id, loss] : {std::pair("wall", 0.0), std::pair("lossy", 0.5)})
        changes.push_back(test::add(
            Kind::attenuator_type, id,
            {{"name", id}, {"rated_w", 50.0}, {"steps_db", steps}, {"has_off", true}, {"insertion_db", loss}}));
    Map amplifier{{"name", "Amplifier"}};
    put(amplifier, "rated_w", pick({0.0, 120.0, 250.0, 250.0}));
    changes.push_back(test::add(Kind::amplifier, "amp", amplifier));
    const int outputs = *rc::gen::inRange(1, 3), zones = *rc::gen::inRange(1, 4);
    for (int i = 0; i < outputs; ++i) {
        Map channel{{"name", "Output"}, {"amplifier", "amp"}};
        put(channel, "rated_w", pick({0.0, 100.0, 200.0, 200.0}));
        changes.push_back(test::add(Kind::channel, "o" + std::to_string(i), channel));
    }
    for (int i = 0; i < zones; ++i) {
        Map zone{{"name", "Zone " + std::to_string(i)}};
        put(zone, "limit_w", pick({0.0, 60.0, 100.0, 100.0, 150.0}));
        if (!once_in(8)) put(zone, "channel", "o" + std::to_string(i % outputs));
        if (i > 0 && once_in(8)) put(zone, "output", "low_z");
        if (i > 0 && once_in(8)) put(zone, "emergency", pick({"yes", "no"}));
        changes.push_back(test::add(Kind::zone, "z" + std::to_string(i), zone));
    }
    auto story = std::make_unique<Story>(changes);
    const int speakers = *rc::gen::inRange(0, 5);
    if (speakers > 0) story->request(fitted("f", speakers, pick({5, 6, 10}), "z0"));
    return story;
}

std::string random_step(Story& story) {
    const std::vector<std::string> points = ids_of(story, "points");
    const int what = *rc::gen::inRange(0, 10);
    if (what < 3 || points.empty()) {
        const std::string id = fresh(story, "points", "p");
        const Map fields = once_in(5) ? random_attenuator(story) : random_speaker(story);
        return story.add(Kind::point, id, fields) ? shown("add", id, fields) : "";
    }
    if (what < 6) {
        const std::string id = fresh(story, "readings", "r");
        const Map fields = random_reading(story);
        return story.add(Kind::reading, id, fields) ? shown("read", id, fields) : "";
    }
    const std::string id = *rc::gen::elementOf(points);
    if (what == 6 && once_in(3)) return story.request({test::remove(Kind::point, id)}) ? "remove " + id : "";
    const std::vector<std::string> walls = attenuators_of(story);
    const bool is_wall = std::find(walls.begin(), walls.end(), id) != walls.end();
    const Map fields = is_wall ? random_turn() : random_change(story);
    return story.set(Kind::point, id, fields) ? shown("set", id, fields) : "";
}

std::unique_ptr<Story> random_story(int most) {
    auto story = random_start();
    const int steps = *rc::gen::inRange(0, most + 1);
    for (int i = 0; i < steps; ++i) random_step(*story);
    return story;
}

std::string with_rare_parts(const std::string& job) {
    Json file = Json::parse(job);
    Json steps = Json::array({0.0, -3.0, -6.0});
    file["attenuator_types"].push_back({{"id", "pad"},
                                        {"name", "pad"},
                                        {"rated_w", 50.0},
                                        {"steps_db", steps},
                                        {"has_off", true},
                                        {"build", "l_pad"},
                                        {"pad_ohm", 500.0}});
    file["attenuator_types"].push_back({{"id", "relay"},
                                        {"name", "relay"},
                                        {"rated_w", 35.0},
                                        {"steps_db", steps},
                                        {"has_off", true},
                                        {"override", "energise"},
                                        {"coil_ma", 15.0}});
    for (Json& type : file["speaker_types"])
        if (type["id"] == "s" && once_in(2)) {
            type["mag_h"] = 40.0;
            type["leak_h"] = 0.05;
            type["primary_ohm"] = 30.0;
            type["secondary_ohm"] = 30.0;
        }
    for (Json& point : file["points"])
        if (point["kind"] == "attenuator") point["type"] = pick({"pad", "relay", "wall"});
    for (const char* const type : {"pad", "relay"}) {
        const std::string control = std::string("v-") + type;
        Json point = {{"id", control}, {"kind", "attenuator"}, {"label", control}, {"fed_from", "z0"}, {"type", type}};
        if (!once_in(4)) point["knob_db"] = pick({0.0, -3.0, -6.0});
        if (std::string(type) == "relay" && once_in(2)) point["override_tested"] = "2026-02-03";
        file["points"].push_back(std::move(point));
        const std::string speaker = std::string("l-") + type;
        file["points"].push_back({{"id", speaker},
                                  {"kind", "speaker"},
                                  {"label", speaker},
                                  {"fed_from", control},
                                  {"type", "s"},
                                  {"tap_w", pick({5.0, 6.0, 10.0})},
                                  {"state", "fitted"},
                                  {"cable", "thin"},
                                  {"length_m", pick({5.0, 40.0})}});
    }
    file["readings"].push_back({{"id", "r-rare"},
                                {"at", "z0"},
                                {"quantity", "ohms"},
                                {"value", pick({90.0, 200.0, 400.0})},
                                {"isolated", true},
                                {"time", "2026-02-04T10:00:00Z"}});
    return file.dump();
}

}  // namespace tapwright::oracle
