#include <rapidcheck.h>

#include "tests/extremes/extreme_jobs.h"

#include "core/job/field_table.h"

namespace tapwright::test {
namespace {

bool once_in(int n) {
    return *rc::gen::resize(100, rc::gen::inRange(0, n)) == 0;
}

template <class T>
T one_of(std::vector<T> list) {
    return *rc::gen::elementOf(std::move(list));
}

// Rather an end than the middle. Reading values are kept below what a hand-held meter shows half of the time.
double any_number(const FieldInfo& field) {
    const Rule& rule = field.rule;
    std::vector<double> ends;
    for (const double end : {rule.low, rule.high, 0.0, rule.grain, -rule.grain, std::nextafter(rule.low, rule.high),
                             std::nextafter(rule.high, rule.low), rule.low + (rule.high - rule.low) * 1e-6,
                             std::nextafter(0.0, 1.0), 1.0, 5.0, 8.0, 70.7, 100.0, 1000.0, -3.0})
        if (rule.allows(end)) ends.push_back(field.form == FieldForm::whole ? std::round(end) : end);
    return one_of(ends);
}

Value any_value(const FieldInfo& field) {
    switch (field.form) {
        case FieldForm::number:
            return any_number(field);
        case FieldForm::whole:
            return field.rule.allowed_count > 0 ? Value(static_cast<double>(field.rule.allowed[0]))
                                                : Value(any_number(field));
        case FieldForm::flag:
            return once_in(2);
        case FieldForm::choice:
            return std::string(one_of(std::vector<std::string_view>(field.choices.begin(), field.choices.end())));
        case FieldForm::knob:
            return once_in(4) ? Value("off") : Value(any_number(field));
        case FieldForm::number_list:
            return List{any_number(field), any_number(field), any_number(field)};
        default:
            return {};
    }
}

// The fields given, and of the others most, at random.
Map record(Kind kind, Map given, const std::vector<std::string_view>& without = {}) {
    for (const FieldInfo& field : fields(kind)) {
        const bool is_given =
            std::any_of(given.begin(), given.end(), [&](const auto& one) { return one.first == field.name; });
        if (is_given || std::find(without.begin(), without.end(), field.name) != without.end() || once_in(4)) continue;
        if (Value value = any_value(field); !value.is_null()) given.emplace_back(field.name, std::move(value));
    }
    return given;
}

Map named(const char* id, Map more = {}) {
    more.insert(more.begin(), {{"id", id}, {"name", id}});
    return more;
}

// ---- the records, by kind ----
Map any_cable(const char* id, std::string_view size) {
    std::vector<std::string_view> others{"awg", "area_mm2", "ohm_per_km"};
    std::erase(others, size);
    Map made = record(Kind::cable_type, named(id), others);
    if (made.end() == std::find_if(made.begin(), made.end(), [&](const auto& one) { return one.first == size; }))
        made.emplace_back(std::string(size), any_value(*find_field(Kind::cable_type, size)));
    return made;
}

Map any_point(int number, const List& types) {
    const std::string id = "p" + std::to_string(number);
    const bool is_attenuator = once_in(4);
    const int feed = *rc::gen::resize(100, rc::gen::inRange(-1, number));
    Map given{{"id", id},
              {"kind", is_attenuator ? "attenuator" : "speaker"},
              {"label", id},
              {"fed_from", feed <= 0 ? std::string(feed < 0 ? "z1" : "z2") : "p" + std::to_string(feed)},
              {"cable", one_of<std::string>({"c1", "c2", "c3"})}};
    if (is_attenuator) {
        given.emplace_back("type", one_of<std::string>({"a1", "a2"}));
        return record(Kind::point, std::move(given), {"tap_w", "planned_tap_w", "found_w", "emergency"});
    }
    const std::size_t type = once_in(2) ? 0 : 1;
    given.emplace_back("type", "s" + std::to_string(type + 1));
    given.emplace_back("room", one_of<std::string>({"r1", "r2"}));
    const List& taps = *types[type].find("taps_w").list();
    for (const char* key : {"tap_w", "planned_tap_w"})
        if (!once_in(3))
            given.emplace_back(key, taps[*rc::gen::resize(100, rc::gen::inRange(std::size_t{0}, taps.size()))]);
    return record(Kind::point, std::move(given), {"tap_w", "planned_tap_w", "emergency"});
}

Map any_reading(int number) {
    Map given{{"id", "m" + std::to_string(number)}, {"at", one_of<std::string>({"z1", "z2", "p1", "p2", "ch1", "r1"})}};
    const auto quantity =
        one_of<std::string>({"ohms", "ohms", "ohms", "dc_ohms", "stray_v", "volts", "level_dba", "tap_w"});
    given.emplace_back("quantity", quantity);
    // No impedance is 0: a meter that shows 0 says nothing (core/job/relations.cpp).
    double value = any_number(*find_field(Kind::reading, "value"));
    if (quantity.ends_with("ohms")) value = std::max(value, find_field(Kind::reading, "value")->rule.grain);
    if (once_in(5))
        given.emplace_back("over_range", true);
    else
        given.emplace_back("value", value);
    return record(Kind::reading, std::move(given), {"value", "over_range"});
}

}  // namespace

Map any_extreme_job() {
    List types{
        record(Kind::speaker_type, named("s1", {{"taps_w", any_value(*find_field(Kind::speaker_type, "taps_w"))}})),
        record(Kind::speaker_type, named("s2", {{"taps_w", List{0.001, 5.0, 1e6}}}))};
    List points, readings;
    for (int i = 1; i <= 8; ++i) points.emplace_back(any_point(i, types));
    for (int i = 1; i <= 4; ++i) readings.emplace_back(any_reading(i));
    Map job{{"tapwright_job", static_cast<double>(job_table_version)},
            {"job", record(Kind::job, {{"name", "job"}})},
            {"rooms", List{record(Kind::room, named("r1")), record(Kind::room, named("r2"))}},
            {"amplifiers", List{record(Kind::amplifier, named("amp"))}},
            {"channels", List{record(Kind::channel, named("ch1", {{"amplifier", "amp"}})),
                              record(Kind::channel, named("ch2", {{"amplifier", "amp"}}))}},
            {"zones", List{record(Kind::zone, named("z1", {{"channel", "ch1"}}), {"emergency"}),
                           record(Kind::zone, named("z2", {{"channel", "ch2"}}), {"emergency"})}}};
    job.emplace_back("speaker_types", std::move(types));
    job.emplace_back("attenuator_types", List{record(Kind::attenuator_type, named("a1")),
                                              record(Kind::attenuator_type, named("a2", {{"build", "l_pad"}}))});
    job.emplace_back("cable_types",
                     List{any_cable("c1", "awg"), any_cable("c2", "area_mm2"), any_cable("c3", "ohm_per_km")});
    job.emplace_back("points", std::move(points));
    job.emplace_back("interfaces", List{record(Kind::interface, {{"id", "i1"}, {"kind", "override_24v"}})});
    job.emplace_back("readings", std::move(readings));
    return job;
}

}  // namespace tapwright::test
