#include "core/job/form_words.h"

#include <cmath>
#include <cstdlib>

#include "core/base/text.h"
#include "core/units/unit.h"

namespace tapwright::codec {
namespace {

// A bound, with the field's unit behind it and as many decimals as it has.
Figure bound(const FieldInfo& field, double number) {
    int decimals = 0;
    while (decimals < 12 && std::strtod(rounded(number, decimals).c_str(), nullptr) != number) ++decimals;
    return Figure{number, unit_from_symbol(field.unit).value_or(Unit::none), decimals};
}

// Three patterns for the two ends of a range, and what was given instead.
Message number_wanted(const FieldInfo& field, const Argument& given) {
    const Rule& rule = field.rule;
    const std::vector<Named> named = {
        {"low", bound(field, rule.low)}, {"high", bound(field, rule.high)}, {"given", given}};
    if (field.form == FieldForm::knob || field.form == FieldForm::knob_map)
        return Message("Write a figure from {low} to {high}, or off, not {given}.", named);
    if (field.form == FieldForm::whole)
        return Message("Write a whole number from {low} to {high}, not {given}.", named);
    return rule.high_excluded ? Message("Write a figure of at least {low} and below {high}, not {given}.", named)
                              : Message("Write a figure from {low} to {high}, not {given}.", named);
}

Message text_wanted(const FieldInfo& field, const Argument& given) {
    const std::vector<Named> named = {{"most", field.rule.most_chars}, {"given", given}};
    return field.rule.is_required ? Message("Write 1 to {most} characters, not {given}.", named)
                                  : Message("Write at most {most} characters, not {given}.", named);
}

Message one_of_wanted(const FieldInfo& field, const Argument& given) {
    Series choices{{}, Series::Last::with_or};
    for (const std::string_view key : field.choices) choices.items.push_back(code(key));
    for (std::size_t i = 0; i < field.rule.allowed_count; ++i) choices.items.push_back(Count{field.rule.allowed[i]});
    return Message("Write {choices}, not {given}.", {{"choices", choices}, {"given", given}});
}

// Lists and maps show what they look like instead of saying it.
Message such_as(const char* example, const Argument& given) {
    return Message("Write it in this form: {example}. Given: {given}.", {{"example", code(example)}, {"given", given}});
}

}  // namespace

Message given_as_message(const Value& value) {
    if (const std::string* text = value.text()) return Message("“{text}”", {{"text", entered(cited(*text, 40))}});
    if (const double* number = value.number())
        return std::isfinite(*number) ? Message(code(shortest(*number))) : Message("an endless number");
    if (const bool* flag = value.flag()) return code(*flag ? "true" : "false");
    if (value.list()) return Message("a list");
    return value.map() ? Message("a map") : Message("nothing");
}

Message nearer_to_zero(const FieldInfo& field, const Argument& given) {
    return Message("Write 0, or a figure at least {least} away from it, not {given}.",
                   {{"least", bound(field, field.rule.grain)}, {"given", given}});
}

Message wanted(const FieldInfo& field, const Argument& given) {
    switch (field.form) {
        case FieldForm::text:
            return text_wanted(field, given);
        case FieldForm::whole:
            return field.rule.allowed_count > 0 ? one_of_wanted(field, given) : number_wanted(field, given);
        case FieldForm::number:
        case FieldForm::number_list:
        case FieldForm::knob:
            return number_wanted(field, given);
        case FieldForm::flag:
            return Message("Write true or false, not {given}.", {{"given", given}});
        case FieldForm::choice:
            return one_of_wanted(field, given);
        case FieldForm::id:
        case FieldForm::id_list:
            return Message("Write an id of 1 to 40 characters from A-Z a-z 0-9 _ -, not {given}.", {{"given", given}});
        case FieldForm::date:
            return Message("Write a day as YYYY-MM-DD, not {given}.", {{"given", given}});
        case FieldForm::time:
            return Message("Write a time as YYYY-MM-DDThh:mm:ss with Z or an offset such as +02:00, not {given}.",
                           {{"given", given}});
        case FieldForm::sha256:
            return Message("Write 64 hexadecimal digits in lower case, not {given}.", {{"given", given}});
        case FieldForm::pin:
            return such_as(R"({"x": 0.25, "y": 0.5})", given);
        case FieldForm::text_map:
            return such_as(R"({"2.5": "red", "5": "green"})", given);
        case FieldForm::knob_map:
            return such_as(R"({"A-1": -6, "A-2": "off"})", given);
        case FieldForm::strokes:
            return such_as("[[0.1, 0.2, 0.3, 0.4]]", given);
        case FieldForm::changes:
            return such_as(R"([{"op": "set", "kind": "point", "id": "p1", "fields": {"tap_w": 5}}])", given);
    }
    TAPWRIGHT_ENSURE(!"a form that is not in the list");
}

}  // namespace tapwright::codec
