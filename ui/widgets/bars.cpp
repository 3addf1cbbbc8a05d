#include "ui/widgets/bars.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/words/words.h"
#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr std::array<PlaceId, place_count> places = {PlaceId::survey,   PlaceId::rooms, PlaceId::lines,
                                                     PlaceId::readings, PlaceId::snags, PlaceId::handover};
constexpr std::array<Pattern, place_count> names = {Pattern("Survey"),   Pattern("Rooms"), Pattern("Lines"),
                                                    Pattern("Readings"), Pattern("Snags"), Pattern("Handover")};
constexpr std::array<const char*, place_count> marks = {"place.survey",   "place.rooms", "place.lines",
                                                        "place.readings", "place.snags", "place.handover"};
constexpr std::array<Shape, place_count> shapes = {Shape::survey,   Shape::rooms, Shape::lines,
                                                   Shape::readings, Shape::snags, Shape::handover};

struct PlaceColours {
    Colour fill, words;
};

PlaceColours colours_of(const Context& context, bool chosen) {
    if (chosen) return {context.theme.accent_fill, context.theme.accent_text};
    return {context.theme.card, context.theme.quiet_text};
}

// Widths that add up to `width`, each at least wide enough for its word; empty where they cannot.
std::vector<float> bar_widths(Context& context, float width) {
    std::vector<float> widths;
    float sum = 0;
    for (const Pattern& name : names) {
        const float words = text_width(context, TextSize::caption, context.words.text(Message(name)));
        widths.push_back(std::max(context.px(measure::touch), words + 2));
        sum += widths.back();
    }
    if (sum > width) return {};
    for (float& each : widths) each = std::floor(each + (width - sum) / place_count);
    return widths;
}

// What its mark says: whether the page in hand is there.
std::string place_text(const Context& context, std::size_t index, bool chosen) {
    const Message name(names[index]);
    return context.words.text(chosen ? Message("{place}, here", {{"place", name}}) : name);
}

bool draw_place(Context& context, std::size_t index, bool chosen, float width, float height) {
    const Touch touch = touchable(context, marks[index], ImVec2(width, height), place_text(context, index, chosen));
    const std::string name = context.words.text(Message(names[index]));
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    const PlaceColours colours = colours_of(context, chosen);
    const float word = line_height(context, TextSize::caption), sign = context.px(22), pill = context.px(30);
    const float top = std::floor(a.y + (height - pill - word) / 2);
    if (chosen || touch.held) {
        const float wide = std::min(context.px(56), a.width);
        panel(context, list, {std::floor(a.x + (a.width - wide) / 2), top, wide, pill},
              touch.held ? mixed(colours.fill, context.theme.text, 0.12) : colours.fill, colours.fill, 15, 0);
    }
    draw_shape(list, shapes[index], ImVec2(a.x + a.width / 2, top + pill / 2), sign, colours.words, colours.fill);
    write_line(context, list, TextSize::caption, chosen ? context.theme.text : colours.words, name,
               {a.x, top + pill, a.width, word}, Align::centre);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

}  // namespace

namespace {

constexpr float header_gap = 4;

struct HeaderPlan {
    Lines title;
    float left = 0, room = 1, height = 0;
};

HeaderPlan plan_header(Context& context, std::string_view title, bool leads_back, std::size_t actions, float width) {
    HeaderPlan plan;
    const float key = context.px(measure::touch) + context.px(header_gap);
    plan.left = leads_back ? key : 0;
    plan.room = std::max(1.0F, width - plan.left - static_cast<float>(actions) * key);
    plan.title = broken_into_lines(context, TextSize::title, title, plan.room, 2);
    plan.height = std::max(context.px(52), plan.title.height);
    return plan;
}

}  // namespace

float page_header_height(Context& context, const Message& title, bool leads_back, std::size_t actions, float width) {
    return plan_header(context, context.words.text(title), leads_back, actions, width).height;
}

HeaderTouch page_header(Context& context, std::string_view name, const Message& title, const Message& back_to,
                        std::span<const HeaderAction> actions) {
    HeaderTouch touch;
    const float width = width_left(), key = context.px(measure::touch), gap = context.px(header_gap);
    const std::string words = context.words.text(title);
    const HeaderPlan plan = plan_header(context, words, !back_to.empty(), actions.size(), width);
    const float left = plan.left, room = plan.room, height = plan.height;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::BeginGroup();
    write(context, ImGui::GetWindowDrawList(), TextSize::title, context.theme.text, plan.title,
          {at.x + left, at.y, room, height});
    mark_area(context, std::string(name) + ".title", {at.x + left, at.y, room, height}, words);
    const float key_y = at.y + std::floor((height - key) / 2);
    if (!back_to.empty()) {
        ImGui::SetCursorScreenPos(ImVec2(at.x, key_y));
        touch.back = icon_button(context, std::string(name) + ".back", Shape::arrow_left,
                                 Message("Back to {page}", {{"page", back_to}}));
    }
    for (std::size_t i = 0; i < actions.size(); ++i) {
        const float x = at.x + width - static_cast<float>(actions.size() - i) * (key + gap) + gap;
        ImGui::SetCursorScreenPos(ImVec2(x, key_y));
        if (icon_button(context, actions[i].name, actions[i].shape, actions[i].what, actions[i].enabled))
            touch.action = static_cast<int>(i);
    }
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(width, height));
    ImGui::EndGroup();
    return touch;
}

Message place_name(PlaceId place) {
    return names[static_cast<std::size_t>(place)];
}

std::string_view place_key(PlaceId place) {
    return std::string_view(marks[static_cast<std::size_t>(place)]).substr(std::string_view("place.").size());
}

Shape place_shape(PlaceId place) {
    return shapes[static_cast<std::size_t>(place)];
}

float place_bar_height(Context& context, float width) {
    const float row = context.px(measure::bar_height);
    return bar_widths(context, width).empty() ? 2 * row : row;
}

int place_bar(Context& context, PlaceId current) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = width_left(), row = context.px(measure::bar_height);
    std::vector<float> widths = bar_widths(context, width);
    const bool two_rows = widths.empty();
    if (two_rows) widths.assign(place_count, std::floor(width / 3));
    const Area area{at.x, at.y, width, two_rows ? 2 * row : row};
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + area.height), ink(context.theme.card));
    list->AddLine(at, ImVec2(at.x + width, at.y), ink(context.theme.line), std::max(1.0F, context.scale));
    int tapped = -1;
    float x = at.x, y = at.y;
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (two_rows && i == 3) x = at.x, y += row;
        ImGui::SetCursorScreenPos(ImVec2(x, y));
        if (draw_place(context, i, places[i] == current, widths[i], row)) tapped = static_cast<int>(i);
        x += widths[i];
    }
    return tapped;
}

float place_list_width(Context& context) {
    float words = 0;
    for (const Pattern& name : names)
        words = std::max(words, text_width(context, TextSize::strong, context.words.text(Message(name))));
    return words + context.px(22) + context.px(12) + 2 * context.px(14);
}

int place_list(Context& context, PlaceId current) {
    int tapped = -1;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const bool chosen = places[i] == current;
        const Touch touch =
            touchable(context, marks[i], ImVec2(width_left(), context.px(52)), place_text(context, i, chosen));
        const std::string name = context.words.text(Message(names[i]));
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Area& a = touch.area;
        const PlaceColours colours = colours_of(context, chosen);
        if (chosen || touch.held || touch.hovered)
            panel(context, list, a, chosen ? colours.fill : mixed(colours.fill, context.theme.text, 0.08), colours.fill,
                  measure::corner, 0);
        const float sign = context.px(22), side = context.px(14), gap = context.px(12);
        draw_shape(list, shapes[i], ImVec2(a.x + side + sign / 2, a.y + a.height / 2), sign, colours.words,
                   colours.fill);
        write_line(context, list, chosen ? TextSize::strong : TextSize::body,
                   chosen ? context.theme.text : colours.words, name,
                   {a.x + side + sign + gap, a.y, std::max(1.0F, a.width - 2 * side - sign - gap), a.height});
        focus_ring(context, touch, measure::corner);
        if (touch.tapped) tapped = static_cast<int>(i);
    }
    return tapped;
}

Message action_word(KeptAction action) {
    if (action == KeptAction::undo) return Message("Undo");
    return action == KeptAction::redo ? Message("Redo") : Message();
}

Message kept_at(std::string_view time) {
    return Message("Saved {time}", {{"time", code(time)}});
}

KeptEvent kept_bar(Context& context, std::string_view time, const Message& what, KeptAction action) {
    const std::string act = context.words.text(action_word(action));
    const ToneColours& colours = context.theme.good;
    const float side = context.px(12), key = context.px(measure::touch), sign = context.px(22), gap = context.px(10);
    const float width = width_left();
    const float acting = act.empty() ? 0 : text_width(context, TextSize::strong, act) + context.px(28);
    const float room = std::max(1.0F, width - 2 * side - sign - gap - acting - key);
    const std::string first = context.words.text(kept_at(time)), second = context.words.text(what);
    const Lines heads = broken_into_lines(context, TextSize::strong, first, room);
    const Lines lines = broken_into_lines(context, TextSize::body, second, room, 2);
    const float words = heads.height + (second.empty() ? 0 : lines.height);
    const float height = std::max(context.px(56), words + context.px(14));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::BeginGroup();
    panel(context, list, {at.x, at.y, width, height}, colours.fill, colours.fill, measure::corner, 0);
    draw_shape(list, Shape::check, ImVec2(at.x + side + sign / 2, at.y + height / 2), sign, colours.text, colours.fill);
    const float x = at.x + side + sign + gap, y = at.y + std::floor((height - words) / 2);
    write(context, list, TextSize::strong, colours.text, heads, {x, y, room, heads.height});
    if (!second.empty())
        write(context, list, TextSize::body, colours.text, lines, {x, y + heads.height, room, lines.height});
    mark_area(context, "kept", {at.x, at.y, width, height}, context.words.text(read_out({kept_at(time), what})));
    KeptEvent event = KeptEvent::none;
    const float key_y = at.y + std::floor((height - key) / 2);
    if (!act.empty()) {
        ImGui::SetCursorScreenPos(ImVec2(at.x + width - key - acting, key_y));
        const char* name = action == KeptAction::undo ? "kept.undo" : "kept.redo";
        if (button(context, name, action_word(action), {.width = acting})) event = KeptEvent::act;
    }
    ImGui::SetCursorScreenPos(ImVec2(at.x + width - key, key_y));
    if (icon_button(context, "kept.dismiss", Shape::cross, Message("Dismiss"))) event = KeptEvent::dismiss;
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(width, height));
    ImGui::EndGroup();
    return event;
}

bool message_bar(Context& context, std::string_view name, Tone tone, const Message& sentence) {
    const ToneColours& colours = context.theme.tone(tone);
    const float side = context.px(12), key = context.px(measure::touch), width = width_left();
    const float sign = tone == Tone::plain ? 0 : context.px(22), gap = tone == Tone::plain ? 0 : context.px(10);
    const float room = std::max(1.0F, width - 2 * side - sign - gap - key);
    const std::string words = context.words.text(sentence);
    const Lines lines = broken_into_lines(context, TextSize::body, words, room);
    const float height = std::max(context.px(56), lines.height + context.px(20));
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImDrawList* list = ImGui::GetWindowDrawList();
    ImGui::BeginGroup();
    panel(context, list, {at.x, at.y, width, height}, colours.fill, colours.text, measure::corner, 1.5F);
    draw_shape(list, tone_shape(tone), ImVec2(at.x + side + sign / 2, at.y + height / 2), sign, colours.text,
               colours.fill);
    write(context, list, TextSize::body, colours.text, lines, {at.x + side + sign + gap, at.y, room, height});
    mark_area(context, name, {at.x, at.y, width, height}, words);
    ImGui::SetCursorScreenPos(ImVec2(at.x + width - key, at.y + std::floor((height - key) / 2)));
    const bool dismissed = icon_button(context, std::string(name) + ".dismiss", Shape::cross, Message("Dismiss"));
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(width, height));
    ImGui::EndGroup();
    return dismissed;
}

}  // namespace tapwright::ui
