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

// Whether six signs have room side by side, if not their words.
bool is_one_row(const Context& context, float width) {
    return width >= place_count * context.px(measure::touch);
}

// What its mark says: whether the page in hand is there.
std::string place_text(const Context& context, std::size_t index, bool chosen) {
    const Message name(names[index]);
    return context.words.text(chosen ? Message("{place}, here", {{"place", name}}) : name);
}

void say_place(Context& context, const std::string& name, bool chosen) {
    Mark& mark = context.marks.last();
    mark.role = Role::place;
    mark.label = name;
    mark.is_on = chosen;
}

// The chosen place is a part of the page it leads to: it has the page's ground, no line between, and a bar at its far
// edge.
enum class PageSide : std::uint8_t { above, right };

void join_to_page(const Context& context, ImDrawList* list, const Area& a, PageSide side) {
    const float bar = context.px(5), right = a.x + a.width, bottom = a.y + a.height;
    list->AddRectFilled(ImVec2(a.x, a.y), ImVec2(right, bottom), ink(context.theme.page));
    if (side == PageSide::above)
        list->AddRectFilled(ImVec2(a.x, bottom - bar), ImVec2(right, bottom), ink(context.theme.accent));
    else
        list->AddRectFilled(ImVec2(a.x, a.y), ImVec2(a.x + bar, bottom), ink(context.theme.accent));
}

// `words`: where its word stands, which may be wider than the place itself; no width: nowhere.
bool draw_place(Context& context, std::size_t index, bool chosen, Area place, Area words, PageSide edge) {
    const float width = place.width, height = place.height;
    const Touch touch = touchable(context, marks[index], ImVec2(width, height), place_text(context, index, chosen));
    const std::string name = context.words.text(Message(names[index]));
    say_place(context, name, chosen);
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    PlaceColours colours = colours_of(context, chosen);
    if (chosen) colours.fill = context.theme.page;
    const Colour held_fill = mixed(colours.fill, context.theme.text, 0.12);
    const float word = line_height(context, TextSize::caption), sign = context.px(22), ground = context.px(28);
    const float top = std::floor(a.y + (height - ground - word) / 2);
    if (chosen) join_to_page(context, list, a, edge);
    if (touch.held) list->AddRectFilled(ImVec2(a.x, a.y), ImVec2(a.x + a.width, a.y + height), ink(held_fill));
    draw_shape(list, shapes[index], ImVec2(a.x + a.width / 2, top + ground / 2), sign, colours.words, colours.fill);
    if (words.width > 0)
        write_line(context, list, TextSize::caption, chosen ? context.theme.text : colours.words, name,
                   {words.x, top + ground, words.width, word}, Align::centre);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

// The word of one place among signs alone: over its neighbours, which have none, and within the bar.
Area word_among_signs(Context& context, std::size_t index, float x, float cell, const Area& bar) {
    const float words = text_width(context, TextSize::caption, context.words.text(Message(names[index])));
    const float width = std::min(words + 2, bar.width);
    return {std::clamp(x + (cell - width) / 2, bar.x, bar.x + bar.width - width), 0, width, 0};
}

}  // namespace

namespace {

constexpr float header_gap = 4;

}  // namespace

float page_header_height(const Context& context) {
    return context.px(measure::touch);
}

namespace {

// The title, and in the same height the job's name below it; both are one key.
bool title_over_job(Context& context, const std::string& title, const Message& job, float room) {
    const float line = line_height(context, TextSize::strong);
    const Message said = Message("Job {name}, settings and other jobs", {{"name", job}});
    const std::string name = context.words.text(job);
    const float wanted = std::max(text_width(context, TextSize::strong, title),
                                  text_width(context, TextSize::body, name) + context.px(22));
    const float width = std::max(context.px(measure::touch), std::min(room, wanted + context.px(4)));
    const Touch touch =
        touchable(context, "app.job", ImVec2(width, context.px(measure::touch)), context.words.text(said));
    const Area& a = touch.area;
    const float top = std::floor(a.y + (a.height - line - line_height(context, TextSize::body)) / 2);
    ImDrawList* list = ImGui::GetWindowDrawList();
    write_line(context, list, TextSize::strong, context.theme.text, title, {a.x, top, a.width, line});
    const Area below{a.x, top + line, std::max(1.0F, a.width - context.px(22)), line_height(context, TextSize::body)};
    write_line(context, list, TextSize::body, context.theme.accent_text, name, below);
    const float end = a.x + std::min(below.width, text_width(context, TextSize::body, name));
    draw_shape(list, Shape::chevron, ImVec2(end + context.px(12), below.y + below.height / 2), context.px(12),
               context.theme.accent_text, context.theme.page);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

}  // namespace

HeaderTouch page_header(Context& context, std::string_view name, const Message& title, const HeaderOptions& options) {
    HeaderTouch touch;
    const float width = width_left(), key = context.px(measure::touch), gap = context.px(header_gap), height = key;
    const float left = options.back_to.empty() ? 0 : key + gap;
    const float keys = static_cast<float>(options.actions.size()) * (key + gap);
    const float room = std::max(1.0F, width - left - keys), slot = std::min(options.slot, room);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::BeginGroup();
    const float title_room = options.with_title ? std::max(1.0F, room - slot - (slot > 0 ? gap : 0)) : room;
    const std::string words = context.words.text(title);
    if (options.with_title && !options.job.empty()) {
        ImGui::SetCursorScreenPos(ImVec2(at.x + left, at.y));
        touch.job = title_over_job(context, words, options.job, title_room);
    } else if (options.with_title) {
        // A long title stands in two smaller lines.
        const bool is_long = text_width(context, TextSize::title, words) > title_room;
        const TextSize size = is_long ? TextSize::strong : TextSize::title;
        write(context, ImGui::GetWindowDrawList(), size, context.theme.text,
              broken_into_lines(context, size, words, title_room, is_long ? 2 : 1),
              {at.x + left, at.y, title_room, height});
    }
    mark_area(context, std::string(name) + ".title", {at.x + left, at.y, title_room, height}, words, Role::heading);
    context.marks.last().level = options.level;
    touch.slot = {at.x + left + (options.with_title ? room - slot : 0), at.y, options.with_title ? slot : room, height};
    if (!options.back_to.empty()) {
        ImGui::SetCursorScreenPos(at);
        touch.back = icon_button(context, std::string(name) + ".back", Shape::arrow_left,
                                 Message("Back to {page}", {{"page", options.back_to}}));
    }
    for (std::size_t i = 0; i < options.actions.size(); ++i) {
        const HeaderAction& action = options.actions[i];
        ImGui::SetCursorScreenPos(ImVec2(at.x + width - keys + gap + static_cast<float>(i) * (key + gap), at.y));
        if (icon_button(context, action.name, action.shape, action.what, action.enabled))
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

namespace {

// A short window has a lower bar.
float bar_row(const Context& context) {
    const bool is_short = ImGui::GetIO().DisplaySize.y < context.px(measure::short_below);
    return context.px(is_short ? measure::short_bar_height : measure::bar_height);
}

}  // namespace

float place_bar_height(Context& context, float width) {
    return bar_row(context) * (is_one_row(context, width) ? 1.0F : 2.0F);
}

int place_bar(Context& context, PlaceId current) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = width_left(), row = bar_row(context);
    const bool two_rows = !is_one_row(context, width);
    std::vector<float> widths = two_rows ? std::vector<float>() : bar_widths(context, width);
    const bool with_words = two_rows || !widths.empty();
    if (widths.empty()) widths.assign(place_count, std::floor(width / static_cast<float>(two_rows ? 3 : place_count)));
    const Area area{at.x, at.y, width, two_rows ? 2 * row : row};
    ImDrawList* list = ImGui::GetWindowDrawList();
    list->AddRectFilled(at, ImVec2(at.x + width, at.y + area.height), ink(context.theme.card));
    list->AddLine(at, ImVec2(at.x + width, at.y), ink(context.theme.line), std::max(1.0F, context.scale));
    int tapped = -1;
    float x = at.x, y = at.y;
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (two_rows && i == 3) x = at.x, y += row;
        ImGui::SetCursorScreenPos(ImVec2(x, y));
        const bool chosen = places[i] == current;
        Area words = {x, y, with_words ? widths[i] : 0, row};
        if (!with_words && chosen) words = word_among_signs(context, i, x, widths[i], area);
        if (draw_place(context, i, chosen, {x, y, widths[i], row}, words, PageSide::above))
            tapped = static_cast<int>(i);
        x += widths[i];
    }
    return tapped;
}

float place_rail_width(Context& context) {
    float words = 0;
    for (const Pattern& name : names)
        words = std::max(words, text_width(context, TextSize::caption, context.words.text(Message(name))));
    return std::min(words + context.px(8), context.px(96));
}

int place_rail(Context& context, PlaceId current) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float width = width_left(), row = std::floor(ImGui::GetContentRegionAvail().y / place_count);
    int tapped = -1;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const float y = at.y + static_cast<float>(i) * row;
        ImGui::SetCursorScreenPos(ImVec2(at.x, y));
        if (draw_place(context, i, places[i] == current, {at.x, y, width, row}, {at.x + 2, y, width - 4, row},
                       PageSide::right))
            tapped = static_cast<int>(i);
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
        say_place(context, name, chosen);
        ImDrawList* list = ImGui::GetWindowDrawList();
        const Area& a = touch.area;
        const PlaceColours colours = colours_of(context, chosen);
        if (touch.held || touch.hovered)
            panel(context, list, a, mixed(colours.fill, context.theme.text, 0.08), colours.fill, measure::corner, 0);
        if (chosen) join_to_page(context, list, a, PageSide::right);
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

bool kept_bar(Context& context, const KeptWords& kept, float height, int most_lines) {
    const ToneColours& colours = context.theme.good;
    const Message head = Message("Saved {time}", {{"time", code(kept.time)}});
    const float side = context.px(12), sign = context.px(22), gap = context.px(10), width = width_left();
    const float room = std::max(1.0F, width - 2 * side - sign - gap);
    const Lines heads = broken_into_lines(context, TextSize::strong, context.words.text(head), room, 1);
    const std::string second = context.words.text(kept.what);
    const Lines lines = broken_into_lines(context, TextSize::body, second, room, most_lines);
    const float words = heads.height + (second.empty() ? 0 : lines.height);
    const Touch touch =
        touchable(context, "kept", ImVec2(width, height), context.words.text(read_out({head, kept.what})));
    context.marks.last().role = Role::status;
    const Area& a = touch.area;
    ImDrawList* list = ImGui::GetWindowDrawList();
    panel(context, list, a, colours.fill, colours.fill, measure::corner, 0);
    draw_shape(list, Shape::check, ImVec2(a.x + side + sign / 2, a.y + height / 2), sign, colours.text, colours.fill);
    const float x = a.x + side + sign + gap, y = a.y + std::floor((height - words) / 2);
    write(context, list, TextSize::strong, colours.text, heads, {x, y, room, heads.height});
    if (!second.empty())
        write(context, list, TextSize::body, colours.text, lines, {x, y + heads.height, room, lines.height});
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

MessageEvent message_bar(Context& context, std::string_view name, Tone tone, const Message& sentence, float height) {
    const ToneColours& colours = context.theme.tone(tone);
    const float side = context.px(12), key = context.px(measure::touch), width = width_left();
    const float sign = tone == Tone::plain ? 0 : context.px(22), gap = tone == Tone::plain ? 0 : context.px(10);
    const float room = std::max(1.0F, width - side - sign - gap - key);
    const std::string words = context.words.text(sentence);
    const int most_lines = std::max(1, static_cast<int>(height / line_height(context, TextSize::body)));
    const Lines lines = broken_into_lines(context, TextSize::body, words, room, most_lines);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Touch touch = touchable(context, name, ImVec2(std::max(1.0F, width - key), height), words);
    context.marks.last().role = tone == Tone::stop || tone == Tone::warning ? Role::alert : Role::status;
    ImDrawList* list = ImGui::GetWindowDrawList();
    panel(context, list, {at.x, at.y, width, height}, colours.fill, colours.text, measure::corner, 1.5F);
    draw_shape(list, tone_shape(tone), ImVec2(at.x + side + sign / 2, at.y + height / 2), sign, colours.text,
               colours.fill);
    write(context, list, TextSize::body, colours.text, lines, {at.x + side + sign + gap, at.y, room, height});
    focus_ring(context, touch, measure::corner);
    ImGui::SetCursorScreenPos(ImVec2(at.x + width - key, at.y + std::floor((height - key) / 2)));
    const bool dismissed = icon_button(context, std::string(name) + ".dismiss", Shape::cross, Message("Dismiss"));
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy(ImVec2(width, height));
    if (dismissed) return MessageEvent::dismiss;
    return touch.tapped && lines.shortened ? MessageEvent::open : MessageEvent::none;
}

}  // namespace tapwright::ui
