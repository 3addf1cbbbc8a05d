#include "ui/screens/common/figure_entry.h"

#include <imgui.h>

#include <algorithm>
#include <array>

#include "core/job/field_text.h"
#include "core/units/unit.h"
#include "core/words/choices.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr float low_units = 480;  // a window that low has the figure beside the pad
constexpr std::array key_volts = {25.0, 50.0, 70.7, 100.0};

Message figure_title(const Job& job, const FigureAt& at) {
    Message field = title_of(*find_field(at.kind, at.field));
    if (at.kind == Kind::job) return field;
    return Message("{field} of {record}", {{"field", field}, {"record", entered(name_of(job, at.id))}});
}

}  // namespace

VoltsTouch volts_row(Context& context, std::string_view name, std::optional<Volts> now) {
    std::vector<Choice> choices;
    int chosen = -1;
    for (const double volts : key_volts) {
        if (now == Volts(volts)) chosen = static_cast<int>(choices.size());
        choices.push_back({Volts(volts)});
    }
    const bool is_other = now && chosen < 0;
    if (is_other) chosen = static_cast<int>(choices.size());
    choices.push_back({is_other ? Message(*now) : in_context("voltage", "Other")});
    const int tapped = choice_row(context, name, choices, chosen);
    if (tapped < 0) return {};
    if (tapped == static_cast<int>(key_volts.size())) return {{}, true};
    return {Volts(key_volts[static_cast<std::size_t>(tapped)])};
}

void FigureEntry::begin(const FigureAt& at) {
    at_ = at;
    pad_ = {};
    other_ = at.kind == Kind::job;
    open_ = true;
}

void FigureEntry::figure(Context& context, const std::string& name, const FigureAt& at, float width,
                         float label_height) {
    way_.push_back(at);
    const Job& job = context.session->job();
    const FieldInfo& field = *find_field(at.kind, at.field);
    const Value value = job.get(at.kind, at.id, field);
    const Message shown = value.is_null() ? Message() : message_of(field, value);
    if (figure_key(context, name, title_of(field), shown, hint_of(field, length_units(job)), width, label_height))
        begin(at);
}

void FigureEntry::draw(Context& context) {
    const std::vector<FigureAt> way = std::move(way_);
    way_.clear();
    const Job& job = context.session->job();
    if (at_.kind != Kind::job && !job.has(at_.kind, at_.id)) open_ = false;
    if (Sheet sheet(context, "figure", open_ ? figure_title(job, at_) : Message(), open_); sheet && open_) {
        const FieldInfo& field = *find_field(at_.kind, at_.field);
        // Its height is that of the figure before until it was drawn once.
        if (drawn_ != at_) context.requests.another_frame();
        drawn_ = at_;
        way_ = way;
        if (unit_of_field(field) == Unit::volt && !other_)
            draw_volts(context, job, field);
        else
            draw_pad(context, job, field);
        way_.clear();
    }
}

void FigureEntry::draw_volts(Context& context, const Job& job, const FieldInfo& field) {
    const Value value = job.get(at_.kind, at_.id, field);
    const VoltsTouch touch =
        volts_row(context, "figure.volts", value.number() ? std::optional(Volts(*value.number())) : std::nullopt);
    if (touch.volts) {
        keep(context, field, touch.volts->value());
        open_ = false;
    }
    if (touch.other) other_ = true;
    draw_other(context, job, field);
}

void FigureEntry::draw_pad(Context& context, const Job& job, const FieldInfo& field) {
    PadOptions options;
    options.unit = code(words_of(unit_of_field(field)).shown);
    if (next_open(job)) options.keep_label = Message("Save, next");
    PadEvent event = PadEvent::none;
    if (ImGui::GetIO().DisplaySize.y >= context.px(low_units)) {
        event = number_pad(context, "figure.pad", pad_, options);
        draw_other(context, job, field);
    } else {
        options.key_height = context.px(measure::touch);
        const ImVec2 half(share_of_width(context, 2), pad_keys_height(context, options.key_height));
        ImGui::BeginChild("figure.left", half, ImGuiChildFlags_NavFlattened, ImGuiWindowFlags_NoSavedSettings);
        pad_value(context, "figure.pad", pad_, options);
        draw_other(context, job, field);
        if (!pad_.problem.empty()) tone_box(context, "figure.pad.problem", Tone::stop, pad_.problem);
        ImGui::EndChild();
        beside(context);
        ImGui::BeginChild("figure.right", half, ImGuiChildFlags_NavFlattened, ImGuiWindowFlags_NoSavedSettings);
        event = pad_keys(context, "figure.pad", pad_, options);
        ImGui::EndChild();
    }
    if (event != PadEvent::keep) return;
    const Result<Value> read = value_from_text(field, pad_.text);
    if (read) return keep_and_go_on(context, field, *read);
    pad_.problem = read.refusal().message;
}

// What takes no typing, always one key: a zone's limit is often its output's power; else no longer known.
void FigureEntry::draw_other(Context& context, const Job& job, const FieldInfo& field) {
    const Zone* zone = at_.kind == Kind::zone && at_.field == "limit_w" ? job.find<Zone>(at_.id) : nullptr;
    const Channel* output = zone && zone->channel ? job.find<Channel>(*zone->channel) : nullptr;
    const bool is_known = !job.get(at_.kind, at_.id, field).is_null();
    if (output && output->rated_w && !is_known) {
        if (!button(context, "figure.same",
                    Message("Same as {output}: {watts}",
                            {{"output", entered(name_of(job, output->id))}, {"watts", *output->rated_w}})))
            return;
        return keep_and_go_on(context, field, output->rated_w->value());
    }
    const Message label = field.rule.absent_words.empty() && field.rule.absent_means.empty()
                              ? Message("Clear")
                              : Message("Use {figure}", {{"figure", absent_means(field)}});
    if (!button(context, "figure.clear", label, {.enabled = is_known, .shape = Shape::erase})) return;
    keep(context, field, Value());
    open_ = false;
}

void FigureEntry::keep_and_go_on(Context& context, const FieldInfo& field, Value value) {
    const std::optional<FigureAt> next = next_open(context.session->job());
    keep(context, field, std::move(value));
    open_ = false;
    if (next) begin(*next);
}

void FigureEntry::keep(Context& context, const FieldInfo& field, Value value) {
    Message words = kept_words(context.session->job(), at_.id, field, value);
    shared_.ask(context, {setting(at_.kind, at_.id, {{std::string(field.name), std::move(value)}})}, std::move(words));
}

// The next one on the page in the same unit that is not recorded.
std::optional<FigureAt> FigureEntry::next_open(const Job& job) const {
    auto step = std::find(way_.begin(), way_.end(), at_);
    if (step == way_.end()) return std::nullopt;
    const Unit unit = unit_of_field(*find_field(at_.kind, at_.field));
    for (++step; step != way_.end(); ++step) {
        const FieldInfo& field = *find_field(step->kind, step->field);
        if (unit_of_field(field) == unit && job.get(step->kind, step->id, field).is_null()) return *step;
    }
    return std::nullopt;
}

}  // namespace tapwright::ui
