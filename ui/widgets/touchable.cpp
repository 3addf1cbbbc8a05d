#include "ui/widgets/touchable.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/shapes.h"
#include "ui/frame/text.h"

namespace tapwright::ui {
namespace {

void add_mark(Context& context, std::string_view name, Area area, std::string_view text, bool enabled,
              bool is_touchable) {
    const ImGuiWindow* window = ImGui::GetCurrentWindow();
    const ImRect clip = window->ClipRect;
    Mark mark{std::string(name), area,         intersection(area, area_of(clip.Min, clip.Max)),
              enabled,           is_touchable, std::string(text)};
    mark.window = window->ID;
    if (!text.empty()) mark.role = is_touchable ? Role::button : Role::text;
    context.marks.add(std::move(mark));
}

}  // namespace

Touch touchable(Context& context, std::string_view name, ImVec2 size, std::string_view text, bool enabled,
                bool wants_long_press) {
    Touch touch;
    const std::string id(name);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    touch.area = {at.x, at.y, size.x, size.y};
    ImGui::BeginDisabled(!enabled);
    touch.tapped = ImGui::InvisibleButton(id.c_str(), size, ImGuiButtonFlags_EnableNav);
    // What one touch leads to may move the page before the finger lifts: a field that is left is kept, and a notice
    // comes. Where the press began is what was meant.
    if (enabled && ImGui::IsItemDeactivated() && context.gesture.lifted_in_place()) touch.tapped = true;
    ImGui::EndDisabled();
    if (enabled && context.hand.taps(name)) touch.tapped = true;
    if (enabled) take_focus(context, name);
    touch.held = ImGui::IsItemActive();
    touch.hovered = ImGui::IsItemHovered();
    touch.focused = ImGui::GetCurrentContext()->NavCursorVisible && ImGui::IsItemFocused();
    if (wants_long_press) touch.long_pressed = context.gesture.long_pressed();
    add_mark(context, name, touch.area, text, enabled, true);
    if (enabled) context.marks.last().item = ImGui::GetItemID();
    return touch;
}

void mark(Context& context, std::string_view name, std::string_view text, bool enabled, bool is_touchable) {
    add_mark(context, name, area_of(ImGui::GetItemRectMin(), ImGui::GetItemRectMax()), text, enabled, is_touchable);
}

void mark_area(Context& context, std::string_view name, Area area, std::string_view text, Role role) {
    add_mark(context, name, area, text, true, false);
    if (!text.empty()) context.marks.last().role = role;
}

void say_choice(Context& context, Role role, bool chosen, const Message& words) {
    Mark& mark = context.marks.last();
    mark.role = role;
    mark.is_on = chosen;
    if (chosen) mark.label = context.words.text(words);  // its words say the same, and that it is chosen
}

void take_focus(const Context& context, std::string_view name) {
    if (!context.hand.focuses(name)) return;
    // At once, as a touch does it: what had the focus may be drawn later in this frame, and would take it back.
    ImGui::SetFocusID(ImGui::GetItemID(), ImGui::GetCurrentWindow());
    ImGui::SetNavCursorVisible(true);
    ImGui::ScrollToItem(ImGuiScrollFlags_KeepVisibleEdgeY);
}

void focus_ring(Context& context, const Touch& touch, float corner_units) {
    if (!touch.focused) return;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float thick = context.px(measure::focus), half = thick / 2;
    const Area& a = touch.area;
    const ImVec2 least(a.x + half, a.y + half), greatest(a.x + a.width - half, a.y + a.height - half);
    const float corner = context.px(corner_units);
    // Two colours, so that the ring shows on the accent as well as on the page.
    list->AddRect(ImVec2(least.x + thick, least.y + thick), ImVec2(greatest.x - thick, greatest.y - thick),
                  ink(context.theme.field), std::max(0.0F, corner - thick), 0, thick);
    list->AddRect(least, greatest, ink(context.theme.text), corner, 0, thick);
}

void panel(Context& context, ImDrawList* list, Area area, Colour fill, Colour edge, float corner_units,
           float edge_units) {
    if (!in_sight(list, ImVec2(area.x, area.y), ImVec2(area.x + area.width, area.y + area.height))) return;
    const float corner = context.px(corner_units);
    list->AddRectFilled(ImVec2(area.x, area.y), ImVec2(area.x + area.width, area.y + area.height), ink(fill), corner);
    if (edge_units <= 0) return;
    const float thick = std::max(1.0F, std::floor(edge_units * context.scale)), half = thick / 2;
    list->AddRect(ImVec2(area.x + half, area.y + half), ImVec2(area.x + area.width - half, area.y + area.height - half),
                  ink(edge), corner, 0, thick);
}

float width_left() {
    return std::max(1.0F, ImGui::GetContentRegionAvail().x);
}

float share_of_width(const Context& context, int count) {
    const float gaps = context.px(measure::gap) * static_cast<float>(count - 1);
    return std::max(1.0F, std::floor((width_left() - gaps) / static_cast<float>(count)));
}

float share_of_foot(const Context& context, int count) {
    return context.foot_upright ? width_left() : share_of_width(context, count);
}

void beside(const Context& context) {
    if (context.in_foot && context.foot_upright) return;
    ImGui::SameLine(0, context.px(measure::gap));
}

void space(const Context& context, float units) {
    ImGui::Dummy(ImVec2(1, context.px(units)));
}

}  // namespace tapwright::ui
