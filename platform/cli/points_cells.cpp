#include "platform/cli/points_cells.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "core/words/choices.h"

namespace tapwright::cli {
namespace {

// A suggestion looks over the whole job; those that nobody will read are spared.
constexpr std::size_t most_suggested = 100;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

// "Fed from", "fed-from" and "FED_FROM" are one name; so are two with a line break and with a blank in them.
std::string as_key(std::string_view text) {
    std::string key;
    for (const char c : in_small_letters(trimmed(text))) {
        const bool is_blank = c == ' ' || c == '-' || c == '_' || c == '\n' || c == '\t';
        if (!is_blank)
            key += c;
        else if (!key.empty() && key.back() != '_')
            key += '_';
    }
    return key;
}

// The mark, and whether three digits behind it and one to three in front could be thousands: "1,250".
struct Mark {
    std::size_t at = std::string_view::npos;
    bool is_thousands_like = false;
};

Mark find_mark(std::string_view text, char mark) {
    Mark found{text.find(mark), false};
    if (found.at == std::string_view::npos) return found;
    std::size_t whole = 0;
    while (whole < found.at && is_digit(text[found.at - 1 - whole])) ++whole;
    std::size_t behind = 0;
    while (found.at + 1 + behind < text.size() && is_digit(text[found.at + 1 + behind])) ++behind;
    found.is_thousands_like = behind == 3 && whole >= 1 && whole <= 3 && text[found.at - whole] != '0';
    return found;
}

const FieldInfo* field_titled(const std::string& key, const Words& words) {
    for (const FieldInfo& field : fields(Kind::point))
        if (key == as_key(in_english(title_of(field))) || key == as_key(words.text(title_of(field)))) return &field;
    return nullptr;
}

}  // namespace

bool PointColumn::is_figure() const {
    return holds == Holds::field && field &&
           (field->form == FieldForm::number || field->form == FieldForm::whole || field->form == FieldForm::knob);
}

bool has_certain_decimal_comma(std::string_view text) {
    const Mark comma = find_mark(text, ',');
    return comma.at != std::string_view::npos && !comma.is_thousands_like && comma.at + 1 < text.size() &&
           is_digit(text[comma.at + 1]);
}

PointColumn column_named(std::string_view header, const Words& words, LengthUnits lengths) {
    PointColumn column;
    std::string_view name = trimmed(header);
    if (name.empty()) {
        column.holds = PointColumn::Holds::nothing;
        return column;
    }
    if (const std::size_t open = name.find_last_of("([");
        open != std::string_view::npos && open > 0 && (name.ends_with(')') || name.ends_with(']'))) {
        column.unit = trimmed(name.substr(open + 1, name.size() - open - 2));
        name = trimmed(name.substr(0, open));
    }
    const std::string key = as_key(name);
    if (key == "id" && column.unit.empty()) {
        column.holds = PointColumn::Holds::id;
        return column;
    }
    column.field = find_field(Kind::point, key);
    if (!column.field) {
        column.field = field_titled(key, words);
        column.lengths = lengths;
    }
    if (column.field) column.holds = PointColumn::Holds::field;
    // A unit that is none of the field's makes the whole an unknown name.
    if (!column.unit.empty() &&
        (!column.is_figure() || !parse_number("1 " + column.unit, unit_of_field(*column.field), column.lengths)))
        return {};
    return column;
}

Result<Value> PointCells::value(const PointColumn& column, std::string_view text) const {
    const std::string_view given = trimmed(text);
    const FieldInfo& field = *column.field;
    if (given.empty()) return Value();
    if (field.form == FieldForm::id) return reference(field, given);
    if (field.form == FieldForm::choice) return choice(field, given);
    if (!column.is_figure()) return value_from_text(field, given);
    TAPWRIGHT_TAKE(figure_text, figure(column, given));
    return value_from_text(field, figure_text, column.lengths);
}

Result<Value> PointCells::reference(const FieldInfo& field, std::string_view text) const {
    TAPWRIGHT_TAKE(id, names.find(text, field.rule.may_refer_to));
    if (id) return Value(id->text());
    if (++missed > most_suggested) return no_record(std::string(text), field.rule.may_refer_to);
    return record_named(job, text, field.rule.may_refer_to).refusal();
}

// By its key, or by the words that people read: "speaker", "Loudspeaker".
Result<Value> PointCells::choice(const FieldInfo& field, std::string_view text) const {
    for (const std::string_view key : field.choices)
        for (const bool is_title : {false, true}) {
            const Message said = words_of(Choice{field.choice_list, key, is_title});
            if (as_key(text) == as_key(words.text(said)) || as_key(text) == as_key(in_english(said)))
                return Value(std::string(key));
        }
    return value_for(job, field, text);
}

// With a decimal point and its unit.
Result<std::string> PointCells::figure(const PointColumn& column, std::string_view text) const {
    std::string made(text);
    if (comma_is_decimal) {
        if (find_mark(text, '.').is_thousands_like)
            return Refusal{
                Message("In “{given}” the point could mean thousands or decimals. Write it without, or with "
                        "a decimal comma.",
                        {{"given", entered(cited(text, 40))}})};
        if (const std::size_t comma = made.find(','); comma != std::string::npos && comma == made.rfind(','))
            made[comma] = made.find('.') == std::string::npos ? '.' : ',';
    }
    if (!column.unit.empty() && is_digit(made.back())) made += " " + column.unit;
    return made;
}

}  // namespace tapwright::cli
