#include "core/job/field_codec.h"

#include <cmath>
#include <cstdlib>

#include "core/job/form_words.h"

namespace tapwright {
std::string_view name_of(FieldForm form) {
    static constexpr std::string_view names[] = {"text",          "number",        "whole number",
                                                 "true or false", "choice",        "id",
                                                 "date",          "time",          "SHA-256",
                                                 "step or off",   "place",         "list of numbers",
                                                 "list of ids",   "texts by name", "steps by attenuator",
                                                 "strokes",       "changes"};
    return names[static_cast<std::size_t>(form)];
}

}  // namespace tapwright

namespace tapwright::codec {

Refusal wrong(const FieldInfo& info, const Value& value) {
    const double* number = value.number();
    const bool is_too_near = number && *number != 0 && std::abs(*number) < info.rule.grain;
    return {is_too_near ? nearer_to_zero(info, given_as_message(value)) : wanted(info, given_as_message(value))};
}

Refusal wrong_item(const FieldInfo& info, std::size_t item, const Value& value) {
    return placed(Message("Item {number}", {{"number", item + 1}}), wrong(info, value));
}

Refusal not_a_list(const FieldInfo& info, const Value& value, std::size_t most) {
    if (const List* list = value.list(); list && !list->empty())
        return {Message("Write at most {most} items, not {count}.", {{"most", most}, {"count", list->size()}})};
    if (value.list()) return {Message("Write at least one item.")};
    const Message given = given_as_message(value);
    return {info.form == FieldForm::id_list ? Message("Write a list of ids, not {given}.", {{"given", given}})
                                            : Message("Write a list of figures, not {given}.", {{"given", given}})};
}

Result<void> check_number(const FieldInfo& info, double number) {
    if (!std::isfinite(number) || !info.rule.allows(number)) return wrong(info, number);
    return done();
}

Result<double> read_number(const FieldInfo& info, const Value& value) {
    if (!value.number()) return wrong(info, value);
    const Result<void> checked = check_number(info, *value.number());
    if (!checked) return checked.refusal();
    return *value.number() == 0 ? 0.0 : *value.number();  // no -0
}

Result<void> check_text(const FieldInfo& info, const std::string& text) {
    if (!is_utf8(text)) return Refusal{Message("Write it as UTF-8 text.")};
    if (info.rule.is_required && text.empty()) return wrong(info, text);
    if (text.size() > info.rule.most_chars && code_points(text) > info.rule.most_chars)
        return Refusal{wanted(info, code_points(text))};
    if (text.find('\0') != std::string::npos) return Refusal{Message("Leave out the character U+0000.")};
    return done();
}

Result<std::string> read_text(const FieldInfo& info, const Value& value) {
    if (!value.text()) return wrong(info, value);
    const Result<void> checked = check_text(info, *value.text());
    if (!checked) return checked.refusal();
    return *value.text();
}

Result<int> Codec<Whole>::read(const FieldInfo& info, const Value& value) {
    const Result<double> number = read_number(info, value);
    if (!number) return number.refusal();
    if (*number != std::floor(*number)) return wrong(info, value);
    const int whole = static_cast<int>(*number);
    if (info.rule.allowed_count > 0) {
        bool found = false;
        for (std::size_t i = 0; i < info.rule.allowed_count; ++i) found = found || info.rule.allowed[i] == whole;
        if (!found) return wrong(info, value);
    }
    return whole;
}

bool is_sha256(std::string_view text) {
    if (text.size() != 64) return false;
    for (const char c : text)
        if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'))) return false;
    return true;
}

Result<Knob> Codec<Knob>::read(const FieldInfo& info, const Value& value) {
    if (value.text() && *value.text() == "off") return Knob{.step = Decibels(0), .off = true};
    if (!value.number()) return wrong(info, value);
    const Result<double> step = read_number(info, value);
    if (!step) return step.refusal();
    return Knob{.step = Decibels(*step), .off = false};
}

Value Codec<Knob>::write(const Knob& knob) {
    return knob.off ? Value("off") : Value(knob.step.value());
}

namespace {

// From 0 to 1, and a number.
bool is_share(double number) {
    return number >= 0 && number <= 1;
}

// "7.5", as JSON writes a number above 0.
bool is_tap_key(const std::string& key) {
    char* end = nullptr;
    const double watts = std::strtod(key.c_str(), &end);
    return key.find_first_not_of("0123456789.") == std::string::npos && *end == 0 && watts >= least_watts &&
           watts <= 1e6 && shortest(watts) == key;
}

}  // namespace

Result<Pin> Codec<Pin>::read(const FieldInfo& info, const Value& value) {
    const Map* map = value.map();
    const double* x = value.find("x").number();
    const double* y = value.find("y").number();
    if (!map || map->size() != 2 || !x || !y || !is_share(*x) || !is_share(*y)) return wrong(info, value);
    return Pin{*x, *y};
}

Value Codec<Pin>::write(const Pin& pin) {
    return Map{{"x", pin.x}, {"y", pin.y}};
}

Result<TextMap> Codec<TextMap>::read(const FieldInfo& info, const Value& value) {
    if (!value.map() || value.map()->size() > 100) return wrong(info, value);
    TextMap texts;
    for (const auto& [key, held] : *value.map()) {
        const std::string* text = held.text();
        if (!text || !is_tap_key(key) || text->size() > 800) return wrong(info, value);
        if (!is_utf8(*text) || text->find('\0') != std::string::npos || code_points(*text) > 200)
            return wrong(info, value);
        texts.emplace_back(key, *held.text());
    }
    return texts;
}

Value Codec<TextMap>::write(const TextMap& map) {
    Map written;
    for (const auto& [key, text] : map) written.emplace_back(key, text);
    return written;
}

Result<KnobMap> Codec<KnobMap>::read(const FieldInfo& info, const Value& value) {
    if (!value.map() || value.map()->size() > 10000) return wrong(info, value);
    KnobMap knobs;
    for (const auto& [key, held] : *value.map()) {
        if (!Id::is_valid(key)) return wrong(info, value);
        Result<Knob> knob = Codec<Knob>::read(info, held);
        if (!knob) return wrong(info, value);
        knobs.emplace_back(Id(key), *knob);
    }
    return knobs;
}

Value Codec<KnobMap>::write(const KnobMap& map) {
    Map written;
    for (const auto& [id, knob] : map) written.emplace_back(id.text(), Codec<Knob>::write(knob));
    return written;
}

Result<Strokes> Codec<Strokes>::read(const FieldInfo& info, const Value& value) {
    if (!value.list() || value.list()->size() > 1000) return wrong(info, value);
    Strokes strokes;
    for (const Value& entry : *value.list()) {
        if (!entry.list() || entry.list()->size() % 2 != 0 || entry.list()->size() > 20000) return wrong(info, value);
        auto& stroke = strokes.emplace_back();
        for (std::size_t i = 0; i < entry.list()->size(); i += 2) {
            const double* x = (*entry.list())[i].number();
            const double* y = (*entry.list())[i + 1].number();
            if (!x || !y || !is_share(*x) || !is_share(*y)) return wrong(info, value);
            stroke.push_back({*x, *y});
        }
    }
    return strokes;
}

Value Codec<Strokes>::write(const Strokes& strokes) {
    List written;
    for (const auto& stroke : strokes) {
        List numbers;
        for (const auto& [x, y] : stroke) {
            numbers.emplace_back(x);
            numbers.emplace_back(y);
        }
        written.emplace_back(std::move(numbers));
    }
    return written;
}

namespace {

// Each of the keys of a change, or why it is none.
Result<ChangeOp> read_op(const Value& given) {
    for (const ChangeOp op : {ChangeOp::add, ChangeOp::set, ChangeOp::remove})
        if (given.text() && *given.text() == word(op)) return op;
    return Refusal{Message("Write add, set or remove as its {key}, not {given}.",
                           {{"key", code("\"op\"")}, {"given", given_as_message(given)}})};
}

Result<Kind> read_kind(const Value& given) {
    const std::optional<Kind> kind = given.text() ? kind_from_singular(*given.text()) : std::nullopt;
    if (!kind)
        return Refusal{Message("Write a kind of records, such as point, as its {key}, not {given}.",
                               {{"key", code("\"kind\"")}, {"given", given_as_message(given)}})};
    if (kind == Kind::trial) return Refusal{Message("It is about a trial. A trial changes the system, not trials.")};
    return *kind;
}

Result<Id> read_id(const Value& given, ChangeOp op) {
    if (given.is_null() && op == ChangeOp::add) return Id();
    if (given.text() && Id::is_valid(*given.text())) return Id(*given.text());
    return Refusal{Message("Write the id of the record as its {key}, not {given}.",
                           {{"key", code("\"id\"")}, {"given", given_as_message(given)}})};
}

Result<void> check_fields(const Change& change, const Value& given) {
    if (change.op == ChangeOp::remove)
        return Refusal{Message("Leave out its {key}: it removes the record.", {{"key", code("\"fields\"")}})};
    if (!given.map())
        return Refusal{Message("Write a map as its {key}, not {given}.",
                               {{"key", code("\"fields\"")}, {"given", given_as_message(given)}})};
    for (const auto& [name, held] : *given.map()) {
        const Entered cited_name = entered(cited(name, 40));
        const FieldInfo* field = find_field(change.kind, name);
        if (!field)
            return Refusal{Message("There is no field {field} in the kind {kind}.",
                                   {{"field", cited_name}, {"kind", code(singular(change.kind))}})};
        if (held.is_null() && change.op == ChangeOp::set) continue;
        if (held.is_null()) return Refusal{placed(cited_name, Message("Leave it out while it is unknown."))};
        if (const Result<void> checked = check_form(*field, held); !checked)
            return placed(cited_name, checked.refusal());
    }
    return done();
}

// {"op": "set", "kind": "point", "id": "p1", "fields": {...}}; remove has no fields, add may leave out the id.
Result<Change> read_change(const FieldInfo& info, const Value& value) {
    const Map* map = value.map();
    if (!map) return wrong(info, value);
    for (const auto& [key, held] : *map)
        if (key != "op" && key != "kind" && key != "id" && key != "fields")
            return Refusal{Message("“{key}” is not a key of a change. A change has op, kind, id and fields.",
                                   {{"key", entered(cited(key, 40))}})};
    TAPWRIGHT_TAKE(op, read_op(value.find("op")));
    TAPWRIGHT_TAKE(kind, read_kind(value.find("kind")));
    TAPWRIGHT_TAKE(id, read_id(value.find("id"), op));
    Change change{op, kind, id, {}};
    const Value& fields = value.find("fields");
    if (fields.is_null()) return change;
    TAPWRIGHT_PASS(check_fields(change, fields));
    change.fields = *fields.map();
    return change;
}

}  // namespace

Result<ChangeList> Codec<ChangeList>::read(const FieldInfo& info, const Value& value) {
    if (!value.list() || value.list()->size() > 20000) return wrong(info, value);
    ChangeList changes;
    for (const Value& entry : *value.list()) {
        Result<Change> change = read_change(info, entry);
        if (!change) return placed(Message("Change {number}", {{"number", changes.size() + 1}}), change.refusal());
        changes.push_back(std::move(change).value());
    }
    return changes;
}

Value Codec<ChangeList>::write(const ChangeList& changes) {
    List written;
    for (const Change& change : changes) {
        Map map{{"op", std::string(word(change.op))}, {"kind", std::string(singular(change.kind))}};
        if (!change.id.text().empty()) map.emplace_back("id", change.id.text());
        if (!change.fields.empty()) map.emplace_back("fields", change.fields);
        written.emplace_back(std::move(map));
    }
    return written;
}

}  // namespace tapwright::codec
