#include "ui/screens/common/forms.h"

#include <algorithm>
#include <utility>

#include "core/words/choices.h"
#include "core/words/words.h"
#include "ui/screens/common/library.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_buttons = 12;  // of zones side by side

struct Place {
    Context& context;
    Shared& shared;
    std::string name;  // of the mark
    Kind kind;
    Id id;
    const FieldInfo& field;
    Message what(const Value& value) const { return kept_words(context.session->job(), id, field, value); }
    void keep(Value value) const {
        Message words = what(value);
        shared.ask(context, {setting(kind, id, {{std::string(field.name), std::move(value)}})}, std::move(words));
    }
};

void choice_field(const Place& at, const Value& value) {
    std::vector<Choice> choices;
    int chosen = -1;
    for (const std::string_view word : at.field.choices) {
        // What holds while nothing is recorded is what is chosen.
        const std::string_view holds = value.text() ? std::string_view(*value.text()) : at.field.rule.absent_means;
        if (holds == word) chosen = static_cast<int>(choices.size());
        choices.push_back({tapwright::Choice{at.field.choice_list, word, true}});
    }
    quiet_paragraph(at.context, title_of(at.field));
    const int tapped = choice_row(at.context, at.name, choices, chosen);
    if (tapped < 0) return;
    const auto word = std::string(at.field.choices[static_cast<std::size_t>(tapped)]);
    if (tapped == chosen && value.text() && !at.field.rule.is_required)
        at.keep({});
    else if (tapped != chosen || !value.text())
        at.keep(word);
}

void flag_field(const Place& at, const Value& value) {
    const Choice choices[] = {{Message("Yes")}, {Message("No")}};
    const int chosen = value.flag() ? (*value.flag() ? 0 : 1) : -1;
    quiet_paragraph(at.context, title_of(at.field));
    const int tapped = choice_row(at.context, at.name, choices, chosen);
    if (tapped < 0) return;
    if (tapped == chosen)
        at.keep({});
    else
        at.keep(tapped == 0);
}

void reference_field(const Place& at, const Value& value) {
    const Job& job = at.context.session->job();
    Row row;
    row.title = title_of(at.field);
    row.value = value.text() ? record_words(job, Id(*value.text())) : Message("Not recorded");
    row.chevron = true;
    if (!list_row(at.context, at.name, row).tapped) return;
    PickOptions options;
    options.title = title_of(at.field);
    options.kinds = at.field.rule.may_refer_to;
    options.current = value.text() ? Id(*value.text()) : Id();
    options.not_this = at.id;
    options.may_be_none = !at.field.rule.is_required;
    Shared& shared = at.shared;
    const auto pick = [&shared, kind = at.kind, id = at.id, &field = at.field](Context& context, const Id& picked) {
        const Value chosen = picked == Id() ? Value() : Value(picked.text());
        shared.ask(context, {setting(kind, id, {{std::string(field.name), chosen}})},
                   kept_words(context.session->job(), id, field, chosen));
    };
    options.bring = [&shared, kind = at.kind, id = at.id, &field = at.field](Context& context,
                                                                             const EarlierType& earlier) {
        shared.ask(context, {earlier.adding, setting(kind, id, {{std::string(field.name), earlier.adding.id.text()}})},
                   chosen_words(context.session->job(), id, field, earlier.name));
    };
    at.context.requests.open(pick_screen(shared, std::move(options), pick));
}

// The unit a figure may be typed without.
Message unit_hint(const FieldInfo& field, LengthUnits lengths) {
    const Unit unit = unit_of_field(field);
    if (unit == Unit::metre && lengths == LengthUnits::feet) return code("ft");
    return unit == Unit::none ? Message() : code(words_of(unit).shown);
}

struct Column {
    float width = 0, label_height = 0;  // pixels; 0: as it comes
    Message label = {};                 // instead of the field's title
};

void typed_field(const Place& at, FormState& state, const Value& value, const Column& column = {}) {
    const LengthUnits lengths = length_units(at.context.session->job());
    Draft& draft = state.drafts[std::string(at.field.name)];
    FieldOptions options;
    options.hint = hint_of(at.field, lengths);
    if (column.width <= 0) options.help = at.field.help;
    options.width = column.width;
    options.label_height = column.label_height;
    options.number = at.field.form == FieldForm::number || at.field.form == FieldForm::whole;
    options.renamed = column.width > 0 && at.field.name == "name";
    options.rows = at.field.rule.most_chars > 400 && at.field.form == FieldForm::text ? 3 : 1;
    const std::string kept = value.is_null() ? std::string() : editable_text(at.field, value, lengths);
    const Message label = !column.label.empty() ? column.label
                          : at.field.rule.is_required && kept.empty()
                              ? Message("{field}, needed", {{"field", title_of(at.field)}})
                              : title_of(at.field);
    if (text_field(at.context, at.name, label, kept, draft, options) != FieldEvent::commit) return;
    Shared& shared = at.shared;
    const Result<Value> typed = value_from_text(at.field, draft.text, lengths);
    keep_field(at.context, draft, typed ? at.what(*typed) : Message(),
               [&shared, kind = at.kind, id = at.id, &field = at.field, lengths](
                   Session& session, const std::string& text) -> Result<void> {
                   const Result<Value> read = value_from_text(field, text, lengths);
                   if (!read) return placed(title_of(field), read.refusal());
                   const ChangeList changes = {setting(kind, id, {{std::string(field.name), *read}})};
                   const Result<Outcome> outcome = session.request(
                       Command{.changes = changes, .fill_in = true, .place = {}}, shared.author(), shared.stamp());
                   if (!outcome) return outcome.refusal();
                   return done();
               });
}

// As it is, where nothing may be changed.
void read_field(const Place& at, const Value& value) {
    const Message words =
        value.is_null() ? Message("Not recorded") : message_of(at.field, value, &at.context.session->job());
    label_value(at.context, at.name, title_of(at.field), as_title(words));
}

class Pick : public TitledScreen {
public:
    Pick(Shared& shared, PickOptions options, std::function<void(Context&, const Id&)> pick)
        : TitledScreen(shared, options.title), options_(std::move(options)), pick_(std::move(pick)) {}
    void draw(Context& context) override {
        if (added_ != Id()) return take(context, std::exchange(added_, Id()));
        search_field(context, "pick.search", Message("Type to narrow the list"), typed_);
        const Job& job = context.session->job();
        if (options_.may_be_none && typed_.empty()) offer(context, Id(), Message("None"), {}, Shape::none);
        for (std::size_t number = 0; number < kind_count; ++number)
            if (options_.kinds.has(kind_at(number))) draw_kind(context, job, kind_at(number));
        bool any_earlier = false;
        for (std::size_t number = 0; number < kind_count; ++number) {
            if (!options_.kinds.has(kind_at(number))) continue;
            any_earlier = any_earlier || !earlier_types(shared_, job, kind_at(number)).empty();
            if (const auto earlier = earlier_rows(context, shared_, "pick.earlier", kind_at(number), typed_))
                bring(context, *earlier);
        }
        if (shown_ == 0 && !any_earlier) quiet_paragraph(context, Message("Nothing to pick from yet: add one first."));
        shown_ = 0;
    }

private:
    template <class R>
    void draw_records(Context& context, const Job& job) {
        for (const R& record : job.template all<R>()) {
            if (record.id == options_.not_this) continue;
            const std::string name = name_of(job, record.id);
            if (!typed_.empty() && !holds(name, typed_)) continue;
            Message detail = title_of(R::kind_of);
            Shape shape = Shape::none;
            if constexpr (std::is_same_v<R, Point>) {
                if (record.kind) shape = shape_of(*record.kind);
                if (options_.points_of_kind && record.kind != options_.point_kind) continue;
                detail = record.room ? Message(entered(name_of(job, record.room))) : Message("No room recorded");
            }
            if (++shown_ > most_shown) return;
            offer(context, record.id, record_words(job, record.id), detail, shape);
        }
    }
    void draw_kind(Context& context, const Job& job, Kind kind) {
        with_record_type(kind, [&]<class R>() { draw_records<R>(context, job); });
        if (shown_ > most_shown) quiet_paragraph(context, Message("More than can be listed: type part of the name."));
    }
    void offer(Context& context, const Id& id, const Message& name, const Message& detail, Shape shape) {
        Row row;
        row.title = name;
        row.detail = detail;
        row.shape = shape;
        row.selected = id == options_.current;
        if (!list_row(context, "pick." + (id == Id() ? std::string("none") : id.text()), row).tapped) return;
        take(context, id);
    }
    void take(Context& context, const Id& id) {
        context.requests.back();
        pick_(context, id);
    }
    void bring(Context& context, const EarlierType& earlier) {
        if (!options_.bring) return add_earlier(context, shared_, earlier, [this](const Id& id) { added_ = id; });
        context.requests.back();
        options_.bring(context, earlier);
    }

    static constexpr int most_shown = 60;
    PickOptions options_;
    std::function<void(Context&, const Id&)> pick_;
    std::string typed_;
    Id added_;  // from an earlier job, in the frame before
    int shown_ = 0;
};

}  // namespace

// What holds where nothing is typed, else the unit of what may be: "1 dB", "W", "the job's".
Message hint_of(const FieldInfo& field, LengthUnits lengths) {
    if (!field.rule.absent_words.empty()) return field.rule.absent_words;
    if (field.form == FieldForm::number_list)
        return Message("such as {example}",
                       {{"example", code(unit_of_field(field) == Unit::decibel ? "0/3/6/9" : "1.5/3/6")}});
    if (field.rule.absent_means.empty()) return unit_hint(field, lengths);
    const Result<Value> otherwise = value_from_text(field, field.rule.absent_means);
    return otherwise ? as_title(message_of(field, *otherwise)) : unit_hint(field, lengths);
}

std::vector<const FieldInfo*> fields_in_order(Kind kind, LengthUnits lengths) {
    std::vector<const FieldInfo*> ordered = first_fields(kind, lengths);
    for (const FieldInfo& field : fields(kind))
        if (std::find(ordered.begin(), ordered.end(), &field) == ordered.end()) ordered.push_back(&field);
    return ordered;
}

std::vector<const FieldInfo*> first_fields(Kind kind, LengthUnits lengths) {
    std::vector<const FieldInfo*> first;
    const auto take = [&](std::string_view name) { first.push_back(find_field(kind, name)); };
    for (const FieldInfo& field : fields(kind))
        if (field.rule.is_required) first.push_back(&field);
    if (kind == Kind::zone) take("limit_w");
    if (kind == Kind::amplifier || kind == Kind::channel) take("rated_w");
    if (kind == Kind::attenuator_type)
        for (const char* name : {"rated_w", "steps_db"}) take(name);
    if (kind == Kind::cable_type) take(lengths == LengthUnits::feet ? "awg" : "area_mm2");
    return first;
}

void figures_in_a_row(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind,
                      const Id& id, std::initializer_list<std::string_view> names) {
    Column column;
    column.width = share_of_width(context, static_cast<int>(names.size()));
    // Side by side only where an empty field still says its unit and a long figure can be read.
    const bool narrow = column.width < context.px(76);
    if (narrow) column.width = 0;
    for (const std::string_view name : names)
        if (!narrow)
            column.label_height =
                std::max(column.label_height, label_height(context, title_of(*find_field(kind, name)), column.width));
    for (const std::string_view name : names) {
        const FieldInfo& field = *find_field(kind, name);
        if (!narrow && name != *names.begin()) beside(context);
        const Place at{context, shared, std::string(prefix) + "." + std::string(name), kind, id, field};
        typed_field(at, state, context.session->job().get(kind, id, field), column);
    }
}

void name_in_a_column(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind,
                      const Id& id, float width, float label_height) {
    const FieldInfo& field = *find_field(kind, "name");
    const Place at{context, shared, std::string(prefix) + ".name", kind, id, field};
    typed_field(at, state, context.session->job().get(kind, id, field), {width, label_height, title_of(kind)});
}

void record_fields(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind, const Id& id,
                   std::span<const FieldInfo* const> fields) {
    const auto is_size = [&](const FieldInfo& field) {
        return kind == Kind::room && (field.name == "length_m" || field.name == "width_m" || field.name == "height_m");
    };
    for (const FieldInfo* field : fields) {
        if (is_size(*field) && field->name != "length_m") continue;
        if (is_size(*field))
            figures_in_a_row(context, shared, state, prefix, kind, id, {"length_m", "width_m", "height_m"});
        else
            field_row(context, shared, state, prefix, kind, id, *field);
        space(context, 4);
    }
}

void field_row(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind, const Id& id,
               const FieldInfo& field) {
    const Place at{context, shared, std::string(prefix) + "." + std::string(field.name), kind, id, field};
    const Value value = context.session->job().get(kind, id, field);
    if (context.read_only) return read_field(at, value);
    switch (field.form) {
        case FieldForm::choice:
            return choice_field(at, value);
        case FieldForm::flag:
            return flag_field(at, value);
        case FieldForm::id:
            return reference_field(at, value);
        case FieldForm::strokes:
        case FieldForm::changes:
        case FieldForm::sha256:
        case FieldForm::pin:
            return;
        case FieldForm::id_list:
            return id_list_field(context, shared, at.name, kind, id, field);
        case FieldForm::knob_map:
            return knob_map_field(context, shared, at.name, id, field);
        default:
            return typed_field(at, state, value);
    }
}

std::unique_ptr<Screen> pick_screen(Shared& shared, PickOptions options,
                                    std::function<void(Context&, const Id&)> pick) {
    return std::make_unique<Pick>(shared, std::move(options), std::move(pick));
}

void zone_row(Context& context, Shared& shared, std::string_view name) {
    const Job& job = context.session->job();
    const Zone* in_hand = shared.zone_in_hand(job);
    constexpr std::size_t few = 3;
    if (job.all<Zone>().size() < 2) return;
    if (context.wide || job.all<Zone>().size() <= few) {
        std::vector<Choice> choices;
        int chosen = -1;
        for (const Zone& zone : job.all<Zone>()) {
            if (&zone == in_hand) chosen = static_cast<int>(choices.size());
            choices.push_back({entered(name_of(job, zone.id))});
        }
        if (choices.size() <= most_buttons) {
            const OnlyLooks chooses_what_is_shown(context);
            const int tapped = choice_row(context, name, choices, chosen);
            if (tapped >= 0) shared.zone = job.all<Zone>()[static_cast<std::size_t>(tapped)].id;
            return;
        }
    }
    Row row;
    row.title = Message("Zone");
    row.value = entered(name_of(job, in_hand->id));
    row.chevron = true;
    if (list_row(context, name, row).tapped) pick_zone_in_hand(context, shared);
}

void pick_zone_in_hand(Context& context, Shared& shared) {
    PickOptions options;
    options.title = Message("Current zone");
    options.kinds = {Kind::zone};
    options.may_be_none = false;
    if (const Zone* zone = shared.zone_in_hand(context.session->job())) options.current = zone->id;
    context.requests.open(
        pick_screen(shared, options, [&shared](Context&, const Id& picked) { shared.zone = picked; }));
}

}  // namespace tapwright::ui
