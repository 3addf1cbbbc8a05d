// The page with the pad: what is measured, what is expected, how the line stood, the verdict while a figure is typed,
// and the keys. Upright one above the other, in landscape the keys beside the rest. The keys and the verdict have fixed
// places: what needs more room than there is scrolls above them.
#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "core/job/field_text.h"
#include "core/units/parse.h"
#include "core/units/unit.h"
#include "core/words/reading_parts.h"
#include "ui/frame/text.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/list_fields.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

constexpr float wide_units = 600, high_units = 640;  // from which there is room for two columns, for higher keys
constexpr float key_units = 56, low_key_units = 48, highest_key_units = 72;

// A part of the page at the cursor, with its own scrolling where `scrolls`.
class Part {
public:
    Part(const Context& context, const char* name, float width, float height, bool scrolls = false) {
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(context.px(measure::gap), context.px(measure::gap)));
        const ImGuiWindowFlags still = ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse;
        ImGui::BeginChild(name, ImVec2(width, std::max(1.0F, height)), ImGuiChildFlags_NavFlattened,
                          ImGuiWindowFlags_NoSavedSettings | (scrolls ? ImGuiWindowFlags_None : still));
    }
    ~Part() {
        ImGui::EndChild();
        ImGui::PopStyleVar();
    }
    Part(const Part&) = delete;
    Part& operator=(const Part&) = delete;
};

struct Chip {
    std::string mark;
    Message label, read_out;
    bool chosen = false;
};

// Keys of one size in so many columns, two lines of words each at most. Returns: the index that was tapped, or -1.
int chips(Context& context, const std::string& name, std::span<const Chip> items, int columns, Role role) {
    const InGroup group(context.marks, name);
    const Theme& theme = context.theme;
    const float width = share_of_width(context, columns), height = context.px(measure::touch), side = context.px(4);
    int tapped = -1;
    for (std::size_t i = 0; i < items.size(); ++i) {
        const Chip& chip = items[i];
        if (i % static_cast<std::size_t>(columns) != 0) beside(context);
        const Message words = chip.chosen ? Message("{choice}, chosen", {{"choice", chip.read_out}}) : chip.read_out;
        const Touch touch =
            touchable(context, name + "." + chip.mark, ImVec2(width, height), context.words.text(words));
        say_choice(context, role, chip.chosen, chip.read_out);
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Area& a = touch.area;
        const Colour base = chip.chosen ? theme.accent : theme.card;
        panel(context, list, a, touch.held ? mixed(base, theme.text, 0.15) : base,
              chip.chosen ? theme.accent : theme.edge, measure::corner, 1.5F);
        const float room = std::max(1.0F, a.width - 2 * side);
        const Lines lines = broken_into_lines(context, TextSize::strong, context.words.text(chip.label), room, 2);
        write(context, list, TextSize::strong, chip.chosen ? theme.on_accent : theme.text, lines,
              {a.x + side, a.y, room, a.height}, Align::centre);
        focus_ring(context, touch, measure::corner);
        if (touch.tapped) tapped = static_cast<int>(i);
    }
    return tapped;
}

// What can be measured there, what is needed first before the rest.
std::vector<Measured> quantities_at(const Job& job, const Id& at) {
    if (job.find<Room>(at)) return {Measured::level_dba, Measured::noise_dba};
    std::vector<Measured> all = {Measured::stray_v, Measured::ohms,  Measured::earth_ohms, Measured::cross_ohms,
                                 Measured::dc_ohms, Measured::volts, Measured::level_dba,  Measured::noise_dba};
    if (const Point* point = job.find<Point>(at); point && is_speaker(*point)) all.push_back(Measured::tap_w);
    return all;
}

float verdict_height(const Context& context) {
    return line_height(context, TextSize::strong) + line_height(context, TextSize::body) + context.px(8);
}

}  // namespace

void ReadingEntry::draw_pad(Context& context, const Session& session, Sheet& sheet) {
    look(session);
    const float gap = context.px(measure::gap);
    const ImVec2 at = ImGui::GetCursorScreenPos(), space = ImGui::GetContentRegionAvail();
    const float verdict = verdict_height(context);
    PadEvent event = PadEvent::none;
    if (space.x >= context.px(wide_units)) {
        const float left = std::floor((space.x - 2 * gap) / 2);
        {
            const Part part(context, "entry.left", left, space.y);
            sheet.head();
            draw_figures(context, session, space.y - context.px(measure::touch) - verdict - 2 * gap);
            draw_verdict(context);
        }
        const float keys = (space.y - pad_value_height(context) - 4 * gap) / 4;
        ImGui::SetCursorScreenPos(ImVec2(at.x + left + 2 * gap, at.y));
        const Part part(context, "entry.right", space.x - left - 2 * gap, space.y);
        event = draw_keys(context, std::floor(std::min(keys, context.px(highest_key_units))));
    } else {
        const float key = context.px(space.y >= context.px(high_units) ? key_units : low_key_units);
        const float below = verdict + pad_value_height(context) + pad_keys_height(context, key) + 2 * gap;
        {
            const Part part(context, "entry.left", space.x, space.y - below);
            sheet.head();
            const float left = ImGui::GetContentRegionAvail().y;
            draw_figures(context, session, left - gap);
        }
        ImGui::SetCursorScreenPos(ImVec2(at.x, at.y + space.y - below));
        const Part part(context, "entry.right", space.x, below);
        draw_verdict(context);
        event = draw_keys(context, key);
    }
    if (event != PadEvent::none) why_open_ = false;
    if (event == PadEvent::keep) keep(context, session);
}

// What is expected, what else can be measured and how the line stood; or, behind "Why", all that the figure says.
void ReadingEntry::draw_figures(Context& context, const Session& session, float height) {
    const Part part(context, why_open_ ? "entry.why" : "entry.figures", 0, height, true);
    if (why_open_ && !pad_.problem.empty()) return paragraph(context, pad_.problem);
    if (why_open_ && statement_) {
        paragraph(context, statement_->text);
        mark(context, "entry.sentence", context.words.text(statement_->text), true, false);
        if (!statement_->why.empty()) quiet_paragraph(context, statement_->why);
        return;
    }
    if (quantity_ == Measured::ohms) {
        const Message band =
            Message("Expected {expected}", {{"expected", band_words(judgement_, missing_, missing_of_all_)}});
        paragraph(context, band);
        mark(context, "entry.band", context.words.text(band), true, false);
    }
    if (!without_) draw_quantities(context, session);
    draw_conditions(context, session);
    draw_search(context, session);
}

// Below all that has its place already, so that nothing moves.
void ReadingEntry::draw_search(Context& context, const Session& session) {
    const bool does_not_fit = statement_ && asks_where_next(judgement_) && judgement_.speakers > 1;
    if (!leads_to_search_ || without_ || test_ || !does_not_fit || line_to_search(session, at_) == Id()) return;
    if (!button(context, "entry.search", Message("Save and find the fault"), {.shape = Shape::search, .changes = true}))
        return;
    searches_ = true;
    keep(context, session);
}

// Two lines whose place is there from the start, and the key to the reasons beside them.
void ReadingEntry::draw_verdict(Context& context) {
    VerdictLines said = lines_;
    if (!pad_.problem.empty()) said = {Tone::stop, Message("Not saved"), pad_.problem};
    const bool has_more = statement_.has_value() || !pad_.problem.empty();
    const std::string keys[] = {context.words.text(Message("Why")), context.words.text(Message("Hide"))};
    float key = context.px(measure::touch);
    for (const std::string& words : keys)
        key = std::max(key, text_width(context, TextSize::strong, words) + context.px(28));
    const float gap = context.px(measure::gap), side = context.px(10), height = verdict_height(context);
    const float sign = said.tone == Tone::plain ? 0 : context.px(24), sign_gap = said.tone == Tone::plain ? 0 : gap;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area box{at.x, at.y, width_left() - key - gap, height};
    ImDrawList* list = ImGui::GetWindowDrawList();
    const ToneColours& colours = context.theme.tone(said.tone);
    panel(context, list, box, colours.fill, colours.fill, measure::corner, 0);
    draw_shape(list, tone_shape(said.tone), ImVec2(at.x + side + sign / 2, at.y + height / 2), sign, colours.text,
               colours.fill);
    const float x = at.x + side + sign + sign_gap, room = std::max(1.0F, box.x + box.width - side - x);
    const float first = line_height(context, TextSize::strong), second = line_height(context, TextSize::body);
    const float top = std::floor(at.y + (height - first - second) / 2);
    const std::string word = context.words.text(said.word);
    if (said.detail.empty()) {
        write_line(context, list, TextSize::body, colours.text, word, {x, at.y, room, height});
    } else {
        write_line(context, list, TextSize::strong, colours.text, word, {x, top, room, first});
        write_line(context, list, TextSize::body, colours.text, context.words.text(said.detail),
                   {x, top + first, room, second});
    }
    ImGui::Dummy(ImVec2(box.width, height));
    mark(context, has_more ? "entry.verdict" : "entry.prompt", word, true, false);
    context.marks.last().role = said.tone == Tone::stop ? Role::alert : Role::status;
    context.marks.last().label = context.words.text(read_out({said.word, said.detail}));
    ImGui::SameLine(0, gap);
    if (button(context, "entry.why", why_open_ ? Message("Hide") : Message("Why"),
               {.kind = ButtonKind::quiet, .enabled = has_more, .width = key, .height = height})) {
        why_open_ = !why_open_;
        context.requests.another_frame();
    }
}

PadOptions ReadingEntry::pad_options() const {
    const bool in_millions = is_in_megohms(quantity_);
    PadOptions options;
    options.unit = in_millions ? Message("MΩ") : Message(code(words_of(unit_of_reading(quantity_)).shown));
    return options;
}

PadEvent ReadingEntry::draw_keys(Context& context, float height) {
    PadOptions options = pad_options();
    options.key_height = height;
    pad_value(context, "pad", pad_, options);
    return pad_keys(context, "pad", pad_, options);
}

bool ReadingEntry::has_attenuators(const Session& session) const {
    return at_ != Id() && !attenuators_at(session, at_).empty();
}

// How the line stood while it was measured, each in one touch.
void ReadingEntry::draw_conditions(Context& context, const Session& session) {
    std::vector<Chip> items;
    std::vector<bool*> values;
    const auto add = [&](const Message& label, bool& value) {
        items.push_back({std::to_string(items.size()), label, label, value});
        values.push_back(&value);
    };
    add(Message("Over range"), over_range_);
    if (measures_dead_line()) add(Message("Both conductors disconnected"), isolated_);
    if (quantity_ == Measured::ohms) {
        if (!without_) add(Message("Baseline"), baseline_);
        if (has_attenuators(session)) add(Message("All attenuators full"), full_);
    }
    const int tapped = chips(context, "entry.state", items, 2, Role::tick);
    if (tapped >= 0) *values[static_cast<std::size_t>(tapped)] = !*values[static_cast<std::size_t>(tapped)];
}

void ReadingEntry::draw_quantities(Context& context, const Session& session) {
    const std::vector<Measured> all = quantities_at(session.job(), at_);
    std::vector<Chip> items;
    items.reserve(all.size());
    for (const Measured each : all)
        items.push_back({std::string(word(each)), measured_short(each), measured_title(each), each == quantity_});
    const int tapped =
        chips(context, "entry.quantity", items, static_cast<int>(std::min<std::size_t>(4, all.size())), Role::choice);
    if (tapped < 0 || all[static_cast<std::size_t>(tapped)] == quantity_) return;
    choose(context, all[static_cast<std::size_t>(tapped)]);
}

}  // namespace tapwright::ui
