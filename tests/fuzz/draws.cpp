#include "tests/fuzz/draws.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace tapwright::fuzz {

std::size_t Draws::below(std::size_t n) {
    if (n <= 256) return byte() % n;
    const std::size_t high = byte();
    return (high << 8 | byte()) % n;
}

std::string Draws::text(std::size_t most) {
    std::string made;
    for (std::size_t left = below(most + 1); left > 0 && !is_empty(); --left) made += static_cast<char>(byte());
    return made;
}

std::string Draws::rest() {
    std::string made(data_ + at_, data_ + size_);
    at_ = size_;
    return made;
}

std::string any_id(Kind kind, Draws& draws) {
    return kind == Kind::job ? "job" : std::string(singular(kind)) + std::to_string(draws.below(3));
}

double any_number(const FieldInfo& field, Draws& draws) {
    const Rule& rule = field.rule;
    std::vector<double> ends;
    for (const double end : {5.0, rule.low, rule.high, 0.0, rule.grain, -rule.grain,
                             std::nextafter(rule.low, rule.high), std::nextafter(rule.high, rule.low),
                             rule.low + (rule.high - rule.low) * 1e-6, 1.0, 2.5, 8.0, 40.0, 70.7, 100.0, 1000.0, -3.0})
        if (std::isfinite(end) && rule.allows(end))
            ends.push_back(field.form == FieldForm::whole ? std::round(end) : end);
    return ends.empty() ? 0 : ends[draws.below(ends.size())];
}

namespace {

std::string any_text(Draws& draws) {
    // What acts on a terminal, a page, a label or a spreadsheet.
    static const std::string texts[] = {"A",       "C-101",        "=1+1",     "<b>&\"'",
                                        "\x1b[2J", "\xe2\x80\xae", "\xc2\x9b", "a\nb\t|;,"};
    return texts[draws.below(std::size(texts))];
}

Value any_choice(const FieldInfo& field, Draws& draws) {
    return std::string(field.choices[draws.below(field.choices.size())]);
}

Kind any_kind(const FieldInfo& field, Draws& draws) {
    std::vector<Kind> kinds;
    for (std::size_t i = 0; i < kind_count; ++i)
        if (field.rule.may_refer_to.has(kind_at(i))) kinds.push_back(kind_at(i));
    return kinds.empty() ? Kind::job : kinds[draws.below(kinds.size())];
}

Value any_one(const FieldInfo& field, Draws& draws) {
    switch (field.form) {
        case FieldForm::number:
            return any_number(field, draws);
        case FieldForm::whole:
            return field.rule.allowed_count > 0
                       ? Value(static_cast<double>(field.rule.allowed[draws.below(field.rule.allowed_count)]))
                       : Value(any_number(field, draws));
        case FieldForm::flag:
            return draws.below(2) == 1;
        case FieldForm::choice:
            return any_choice(field, draws);
        case FieldForm::id:
            return any_id(any_kind(field, draws), draws);
        case FieldForm::date:
            return draws.below(2) == 0 ? "2026-02-28" : "1900-01-01";
        case FieldForm::time:
            return draws.below(2) == 0 ? "2026-02-28T10:00:00Z" : "2099-12-31T23:59:60-12:00";
        case FieldForm::sha256:
            return std::string(64, draws.below(2) == 0 ? 'a' : '0');
        case FieldForm::knob:
            return draws.below(3) == 1 ? Value("off") : Value(any_number(field, draws));
        default:
            return any_text(draws);
    }
}

Value any_list(const FieldInfo& field, Draws& draws) {
    List list;
    for (std::size_t left = 1 + draws.below(4); left > 0; --left) {
        if (field.form == FieldForm::id_list)
            list.emplace_back(any_id(any_kind(field, draws), draws));
        else
            list.emplace_back(any_number(field, draws));
    }
    return list;
}

Map named(const std::string& name, Map more = {}) {
    more.insert(more.begin(), {"name", name});
    return more;
}

// The given fields, and most others.
Change record(Kind kind, const std::string& id, Map given, Draws& draws,
              const std::vector<std::string_view>& without = {}) {
    for (const FieldInfo& field : fields(kind)) {
        const bool is_given =
            std::any_of(given.begin(), given.end(), [&](const auto& one) { return one.first == field.name; });
        if (is_given || std::find(without.begin(), without.end(), field.name) != without.end()) continue;
        if (field.form == FieldForm::id || field.form == FieldForm::id_list || field.form == FieldForm::changes ||
            field.form == FieldForm::knob_map || !draws.once_in(3))
            continue;
        if (Value value = any_value(field, draws); check_form(field, value).ok())
            given.emplace_back(field.name, std::move(value));
    }
    return {kind == Kind::job ? ChangeOp::set : ChangeOp::add, kind, Id(id), std::move(given)};
}

List any_taps(Draws& draws) {
    static const List lists[] = {List{5.0, 10.0, 20.0}, List{0.63, 1.25, 2.5, 5.0}, List{7.5, 15.0, 30.0, 60.0},
                                 List{0.001, 5.0, 1e6}, List{5.0}};
    return lists[draws.below(std::size(lists))];
}

Change any_point(std::size_t number, const List (&taps)[2], Draws& draws) {
    const std::string id = "point" + std::to_string(number);
    const bool is_attenuator = draws.once_in(4);
    const std::size_t feed = draws.below(number + 2);
    Map given{{"kind", is_attenuator ? "attenuator" : "speaker"},
              {"label", "C-" + std::to_string(100 + number)},
              {"fed_from", feed < 2 ? "zone" + std::to_string(feed) : "point" + std::to_string(feed - 2)},
              {"cable", "cable_type" + std::to_string(draws.below(2))}};
    std::vector<std::string_view> without{"tap_w", "planned_tap_w"};
    if (is_attenuator) {
        given.emplace_back("type", "attenuator_type" + std::to_string(draws.below(2)));
        without.insert(without.end(), {"found_w", "emergency"});
    } else {
        const std::size_t type = draws.below(2);
        given.emplace_back("type", "speaker_type" + std::to_string(type));
        given.emplace_back("room", "room" + std::to_string(draws.below(2)));
        for (const char* key : {"tap_w", "planned_tap_w"})
            if (draws.below(3) != 2) given.emplace_back(key, taps[type][draws.below(taps[type].size())]);
    }
    return record(Kind::point, id, std::move(given), draws, without);
}

Change any_reading(std::size_t number, Draws& draws) {
    static const char* places[] = {"zone0", "zone1", "point0", "channel0", "room0"};
    Map given{{"at", places[draws.below(std::size(places))]}};
    const FieldInfo& quantity = *find_field(Kind::reading, "quantity");
    given.emplace_back("quantity", any_choice(quantity, draws));
    if (draws.once_in(5))
        given.emplace_back("over_range", true);
    else
        given.emplace_back("value", any_number(*find_field(Kind::reading, "value"), draws));
    return record(Kind::reading, "reading" + std::to_string(number), std::move(given), draws, {"value", "over_range"});
}

}  // namespace

Value any_value(const FieldInfo& field, Draws& draws) {
    switch (field.form) {
        case FieldForm::number_list:
        case FieldForm::id_list:
            return any_list(field, draws);
        case FieldForm::text_map:
            return Map{{"a", any_text(draws)}};
        case FieldForm::knob_map:
            return Map{{any_id(Kind::point, draws), draws.below(2) == 0 ? Value("off") : Value(-6.0)}};
        case FieldForm::strokes:
            return List{Value(List{0.0, 0.0, 1.0, 1.0})};
        case FieldForm::pin:
            return Map{{"x", 0.25}, {"y", 0.75}};
        case FieldForm::changes:
            return List{Map{
                {"op", "set"}, {"kind", "zone"}, {"id", any_id(Kind::zone, draws)}, {"fields", Map{{"limit_w", 5.0}}}}};
        default:
            return any_one(field, draws);
    }
}

ChangeList any_changes(Draws& draws, std::size_t most) {
    ChangeList changes;
    for (std::size_t left = draws.below(most + 1); left > 0 && !draws.is_empty(); --left) {
        const Kind kind = kind_at(draws.below(kind_count));
        Change change{static_cast<ChangeOp>(draws.below(3)), kind, Id(any_id(kind, draws)), {}};
        for (std::size_t i = draws.below(4); i > 0 && change.op != ChangeOp::remove; --i) {
            const FieldInfo& field = fields(kind)[draws.below(fields(kind).size())];
            change.fields.emplace_back(field.name, draws.once_in(8) ? Value() : any_value(field, draws));
        }
        changes.push_back(std::move(change));
    }
    return changes;
}

ChangeList any_job(Draws& draws) {
    const List taps[2] = {any_taps(draws), any_taps(draws)};
    ChangeList made{record(Kind::job, "job", named("Job"), draws),
                    record(Kind::amplifier, "amplifier0", named("Amp"), draws)};
    for (const char* n : {"0", "1"}) {
        const std::string number(n);
        made.push_back(record(Kind::room, "room" + number, named("Room"), draws));
        made.push_back(record(Kind::channel, "channel" + number, named("Out", {{"amplifier", "amplifier0"}}), draws));
        made.push_back(record(Kind::zone, "zone" + number, named("Zone", {{"channel", "channel" + number}}), draws,
                              {"emergency"}));
        made.push_back(
            record(Kind::speaker_type, "speaker_type" + number, named("T", {{"taps_w", taps[number == "1"]}}), draws));
        made.push_back(record(Kind::attenuator_type, "attenuator_type" + number, named("A"), draws));
        made.push_back(record(Kind::cable_type, "cable_type" + number, named("C", {{"area_mm2", 1.5}}), draws,
                              {"awg", "ohm_per_km"}));
    }
    const std::size_t points = draws.below(13);
    for (std::size_t i = 0; i < points; ++i) made.push_back(any_point(i, taps, draws));
    if (points == 0) return made;
    for (std::size_t i = draws.below(4); i > 0; --i) made.push_back(any_reading(i, draws));
    return made;
}

}  // namespace tapwright::fuzz
