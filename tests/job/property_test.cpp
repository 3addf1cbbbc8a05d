// Properties over every kind and field: whatever the field table allows survives the record, JSON and a text field.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/words/words.h"

using namespace tapwright;

namespace {

int below(int end) {
    return *rc::gen::resize(1000, rc::gen::inRange(0, end));
}

std::string any_text(std::size_t most) {
    static const char* const pieces[] = {"a",  "Z",    "0",    " ",  "é", "Ω", "\u2028", "\U0001F508",
                                         "\"", "\\",   "/",    ",",  ";", "=", "[",      "{",
                                         "\n", "\x01", "\x7f", "日", "-", "_", "\u00a0"};
    std::string text;
    for (auto left = below(12); left > 0; --left) {
        const std::string piece = pieces[below(static_cast<int>(std::size(pieces)))];
        if (code_points(text) < most) text += piece;
    }
    return text;
}

std::string any_id() {
    static constexpr std::string_view letters = "abcXYZ019_-";
    std::string text;
    for (auto left = 1 + below(40); left > 0; --left)
        text += letters[static_cast<std::size_t>(below(static_cast<int>(letters.size())))];
    return text;
}

// Within the rule, from coarse figures to ones with every digit.
double any_number(const Rule& rule) {
    const double share = below(2) == 0 ? below(1001) / 1000.0 : *rc::gen::arbitrary<std::uint32_t>() / 4294967295.0;
    double number = rule.low + (rule.high - rule.low) * share * (below(2) == 0 ? 1 : 1e-5);
    if (below(3) == 0) number = std::round(number);
    return rule.allows(number) ? number : rule.low + (rule.high - rule.low) / 2;
}

Value any_knob(const Rule& rule) {
    return below(3) == 0 ? Value("off") : Value(any_number(rule));
}

std::string any_date() {
    char text[40];
    std::snprintf(text, sizeof text, "%04d-%02d-%02d", 1 + below(9999), 1 + below(12), 1 + below(28));
    return text;
}

Value any_value(const FieldInfo& field);

Value any_changes() {
    List changes;
    for (auto left = below(4); left > 0; --left) {
        const auto kind = kind_at(1 + static_cast<std::size_t>(below(8)));
        Map fields_set;
        for (const FieldInfo& field : fields(kind))
            if (below(4) == 0) fields_set.emplace_back(field.name, any_value(field));
        Map change{{"op", "set"}, {"kind", std::string(singular(kind))}, {"id", any_id()}};
        if (!fields_set.empty()) change.emplace_back("fields", std::move(fields_set));
        changes.emplace_back(std::move(change));
    }
    return changes;
}

Value any_list(const FieldInfo& field, const std::function<Value()>& item) {
    List list;
    for (auto left = below(6) + (field.rule.is_required ? 1 : 0); left > 0; --left) list.push_back(item());
    return list;
}

Value any_map(const std::function<std::string()>& key, const std::function<Value()>& item) {
    Map map;
    for (auto left = below(6); left > 0; --left) {
        const std::string name = key();
        if (Value(map).find(name).is_null()) map.emplace_back(name, item());
    }
    return map;
}

Value any_value(const FieldInfo& field) {
    const Rule& rule = field.rule;
    switch (field.form) {
        case FieldForm::text: {
            std::string text = any_text(rule.most_chars);
            return text.empty() && rule.is_required ? std::string("x") : text;
        }
        case FieldForm::number:
            return any_number(rule);
        case FieldForm::whole:
            if (rule.allowed_count > 0)
                return static_cast<double>(
                    rule.allowed[static_cast<std::size_t>(below(static_cast<int>(rule.allowed_count)))]);
            return std::round(any_number(rule));
        case FieldForm::flag:
            return below(2) == 0;
        case FieldForm::choice:
            return std::string(field.choices[static_cast<std::size_t>(below(static_cast<int>(field.choices.size())))]);
        case FieldForm::id:
            return any_id();
        case FieldForm::date:
            return any_date();
        case FieldForm::time:
            return any_date() + (below(2) == 0 ? "T23:59:59.5Z" : "T00:00:00-08:00");
        case FieldForm::sha256:
            return std::string(64, "0123456789abcdef"[below(16)]);
        case FieldForm::knob:
            return any_knob(rule);
        case FieldForm::pin:
            return Map{{"x", below(1001) / 1000.0}, {"y", below(1001) / 1000.0}};
        case FieldForm::number_list:
            return any_list(field, [&] { return Value(any_number(rule)); });
        case FieldForm::id_list:
            return any_list(field, [] { return Value(any_id()); });
        case FieldForm::text_map:
            return any_map([] { return shortest(1 + below(1000) / 8.0); }, [] { return Value(any_text(50)); });
        case FieldForm::knob_map:
            return any_map(any_id, [&] { return any_knob(rule); });
        case FieldForm::strokes:
            return any_list(field, [] { return Value(List{below(1001) / 1000.0, below(1001) / 1000.0}); });
        case FieldForm::changes:
            return any_changes();
    }
    return {};
}

// What typing cannot bring back: blanks at the ends of a text, and a text of nothing.
bool survives_typing(const FieldInfo& field, const Value& value) {
    return field.form != FieldForm::text || (!value.text()->empty() && trimmed(*value.text()) == *value.text());
}

template <class Body>
void for_any_field(Body body) {
    CHECK(rc::check([&] {
        for (std::size_t i = 0; i < kind_count; ++i)
            for (const FieldInfo& field : fields(kind_at(i))) body(kind_at(i), field, any_value(field));
    }));
}

}  // namespace

TEST_CASE("every field of every kind gives back what was set, and nothing else changes") {
    CHECK(rc::check([] {
        for (std::size_t i = 1; i < kind_count; ++i) {
            Job job;
            const Id id("r1");
            job.make(kind_at(i), id, {});
            Map set;
            for (const FieldInfo& field : fields(kind_at(i))) {
                if (below(3) == 0) continue;
                const Value value = any_value(field);
                RC_ASSERT(job.set(kind_at(i), id, field, value).ok());
                set.emplace_back(field.name, value);
            }
            RC_ASSERT(job.fields_of(kind_at(i), id) == set);
            for (const FieldInfo& field : fields(kind_at(i)))
                RC_ASSERT(job.get(kind_at(i), id, field) == Value(set).find(field.name));
        }
    }));
}

TEST_CASE("every value of every field survives JSON, compact and canonical, byte for byte") {
    for_any_field([](Kind, const FieldInfo& field, const Value& value) {
        const std::string compact = compact_json(value);
        const Result<Value> read = parse_json(compact, "it");
        RC_ASSERT(read.ok());
        RC_ASSERT(*read == value);
        RC_ASSERT(compact_json(*read) == compact);
        const std::string pretty = pretty_json(value);
        RC_ASSERT(*parse_json(pretty, "it") == value);
        RC_ASSERT(pretty_json(*parse_json(pretty, "it")) == pretty);
        RC_ASSERT(check_form(field, value).ok());
    });
}

TEST_CASE("every value of every field survives being put up for editing, metric and in feet") {
    for_any_field([](Kind, const FieldInfo& field, const Value& value) {
        if (!survives_typing(field, value)) return;
        for (const LengthUnits lengths : {LengthUnits::metric, LengthUnits::feet}) {
            const std::string text = editable_text(field, value, lengths);
            const Result<Value> again = value_from_text(field, text, lengths);
            if (!again.ok()) RC_FAIL(std::string(field.name) + ": " + text + ": " + in_english(again.refusal()));
            if (*again != value) RC_FAIL(std::string(field.name) + ": " + text + ": " + compact_json(*again));
        }
    });
}

TEST_CASE("every value of every field can be shown") {
    for_any_field([](Kind, const FieldInfo& field, const Value& value) {
        const std::string text = in_english(message_of(field, value));
        RC_ASSERT(is_utf8(text));
        RC_ASSERT(field.form == FieldForm::text || !text.empty());
    });
}

TEST_CASE("any text typed into any field has its form or is refused in a whole sentence") {
    CHECK(rc::check([] {
        const std::string text = any_text(12);
        for (std::size_t i = 0; i < kind_count; ++i)
            for (const FieldInfo& field : fields(kind_at(i))) {
                const Result<Value> value = value_from_text(field, text);
                if (value.ok())
                    RC_ASSERT(value->is_null() || check_form(field, *value).ok());
                else
                    RC_ASSERT(!in_english(value.refusal()).empty() && in_english(value.refusal()).ends_with("."));
            }
    }));
}

TEST_CASE("a value of another field's form is taken or refused, and a refused one changes nothing") {
    CHECK(rc::check([] {
        const auto kind = kind_at(1 + static_cast<std::size_t>(below(static_cast<int>(kind_count) - 1)));
        Job job;
        job.make(kind, Id("r1"), {});
        for (const FieldInfo& field : fields(kind)) {
            const Value own = any_value(field);
            RC_ASSERT(job.set(kind, Id("r1"), field, own).ok());
            for (const FieldInfo& other : fields(Kind::point)) {
                const Value foreign = any_value(other);
                if (job.set(kind, Id("r1"), field, foreign).ok()) {
                    RC_ASSERT(check_form(field, foreign).ok());
                    RC_ASSERT(job.set(kind, Id("r1"), field, own).ok());
                } else {
                    RC_ASSERT(!check_form(field, foreign).ok());
                }
                RC_ASSERT(job.get(kind, Id("r1"), field) == own);
            }
        }
    }));
}
