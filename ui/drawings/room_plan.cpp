#include "ui/drawings/room_plan.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float spot_units = 13, finger_units = 24, step_metres = 0.25F, most_lines = 24;

struct Sheet {
    Area floor;
    float scale;  // pixels a metre
    ImVec2 at(const PlanSpot& spot, const RoomPlanData& data) const {
        // What is recorded outside of the room stands at its wall.
        return {floor.x + std::clamp(spot.x, 0.0F, data.length) * scale,
                floor.y + std::clamp(spot.y, 0.0F, data.width) * scale};
    }
};

void draw_grid(Context& context, ImDrawList* list, const RoomPlanData& data, const Sheet& plan) {
    const Area& floor = plan.floor;
    panel(context, list, floor, context.theme.card, context.theme.edge, 0, 2);
    const auto line = [&](float x0, float y0, float x1, float y1) {
        list->AddLine(ImVec2(x0, y0), ImVec2(x1, y1), ink(context.theme.line), 1);
    };
    for (float x = data.grid; x < data.length - data.grid / 100; x += data.grid)
        line(floor.x + x * plan.scale, floor.y, floor.x + x * plan.scale, floor.y + floor.height);
    for (float y = data.grid; y < data.width - data.grid / 100; y += data.grid)
        line(floor.x, floor.y + y * plan.scale, floor.x + floor.width, floor.y + y * plan.scale);
}

bool meet(const Area& one, const Area& other) {
    return one.x < other.x + other.width && other.x < one.x + one.width && one.y < other.y + other.height &&
           other.y < one.y + one.height;
}

// Labels stand beside their spots where there is room for them: the selected one's first, none over another.
void draw_labels(Context& context, ImDrawList* list, const RoomPlanData& data, const Sheet& plan, const Area& window) {
    const float radius = context.px(spot_units) + context.px(3), height = line_height(context, TextSize::body);
    std::vector<Area> taken;
    const auto place = [&](const PlanSpot& spot) {
        const std::string words = context.words.text(spot.label);
        const float width = text_width(context, TextSize::body, words);
        const ImVec2 at = plan.at(spot, data);
        const Area beside[] = {{at.x + radius, at.y - height / 2, width, height},
                               {at.x - radius - width, at.y - height / 2, width, height},
                               {at.x - width / 2, at.y + radius, width, height},
                               {at.x - width / 2, at.y - radius - height, width, height}};
        for (const Area& area : beside) {
            const bool is_inside = area.x >= window.x && area.x + area.width <= window.x + window.width &&
                                   area.y >= window.y && area.y + area.height <= window.y + window.height;
            if (!is_inside || std::any_of(taken.begin(), taken.end(), [&](const Area& a) { return meet(a, area); }))
                continue;
            taken.push_back(area);
            write_line(context, list, TextSize::body, context.theme.text, words, area);
            return;
        }
    };
    for (const PlanSpot& spot : data.spots) {
        const ImVec2 at = plan.at(spot, data);
        const float size = context.px(spot_units);
        taken.push_back({at.x - size, at.y - size, 2 * size, 2 * size});
    }
    const auto chosen = static_cast<std::size_t>(std::max(data.selected, 0));
    if (data.selected >= 0) place(data.spots[chosen]);
    for (std::size_t i = 0; i < data.spots.size(); ++i)
        if (data.selected < 0 || i != chosen) place(data.spots[i]);
}

void draw_spots(Context& context, ImDrawList* list, std::string_view name, const RoomPlanData& data,
                const Sheet& plan) {
    const float size = context.px(spot_units), finger = context.px(finger_units);
    for (std::size_t i = 0; i < data.spots.size(); ++i) {
        const PlanSpot& spot = data.spots[i];
        const ImVec2 at = plan.at(spot, data);
        const bool chosen = static_cast<int>(i) == data.selected;
        const Colour ground = chosen ? context.theme.accent_fill : context.theme.card;
        list->AddCircleFilled(at, size, ink(ground), 24);
        list->AddCircle(at, size, ink(chosen ? context.theme.accent : context.theme.text), 24,
                        std::max(1.5F, context.px(chosen ? 3 : 2)));
        draw_shape(list, spot.shape, at, size * 1.2F, context.theme.text, ground);
        const Area area{at.x - finger, at.y - finger, 2 * finger, 2 * finger};
        const ImRect clip = ImGui::GetCurrentWindow()->ClipRect;
        Mark mark{
            std::string(name) + ".spot." + spot.id, area, intersection(area, area_of(clip.Min, clip.Max)), true, false,
            context.words.text(spot.label)};
        mark.role = Role::image;
        mark.is_on = chosen;
        mark.window = ImGui::GetCurrentWindow()->ID;
        context.marks.add(std::move(mark));
    }
}

int spot_at(Context& context, const RoomPlanData& data, const Sheet& plan, ImVec2 touched) {
    int nearest = -1;
    float least = context.px(finger_units);
    for (std::size_t i = 0; i < data.spots.size(); ++i) {
        const ImVec2 at = plan.at(data.spots[i], data);
        const float distance = std::hypot(at.x - touched.x, at.y - touched.y);
        if (distance <= least) least = distance, nearest = static_cast<int>(i);
    }
    return nearest;
}

// While the plan has the focus the arrows move what is selected instead of leaving the plan.
std::array<float, 2> step_by_key(bool focused, const RoomPlanData& data) {
    if (!focused || data.selected < 0) return {0, 0};
    const auto pressed = [](ImGuiKey key) {
        ImGui::SetKeyOwner(key, ImGui::GetItemID());
        return ImGui::IsKeyPressed(key) ? step_metres : 0;
    };
    return {pressed(ImGuiKey_RightArrow) - pressed(ImGuiKey_LeftArrow),
            pressed(ImGuiKey_DownArrow) - pressed(ImGuiKey_UpArrow)};
}

}  // namespace

float grid_of(float length, float width) {
    const float longest = std::max(length, width);
    for (float ten = 1;; ten *= 10)
        for (const float step : {1.0F, 2.0F, 5.0F})
            if (longest <= step * ten * most_lines) return step * ten;
}

PlanTouch room_plan_drawing(Context& context, std::string_view name, const RoomPlanData& data, float height) {
    PlanTouch touch;
    const float room = width_left(), edge = context.px(spot_units);
    const float scale = std::min((room - 2 * edge) / data.length, (height - 2 * edge) / data.width);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float least = context.px(measure::touch);
    const Area window{at.x, at.y, room, std::max(least, std::floor(data.width * scale + 2 * edge))};
    const Sheet plan{{std::floor(at.x + (room - data.length * scale) / 2), at.y + edge,
                      std::max(1.0F, std::floor(data.length * scale)), std::max(1.0F, std::floor(data.width * scale))},
                     scale};
    const Touch pressed = touchable(context, name, ImVec2(window.width, window.height), context.words.text(data.words));
    context.marks.last().role = Role::image;
    context.marks.last().by_place = true;
    touch.step = step_by_key(pressed.focused, data);
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_grid(context, list, data, plan);
    draw_spots(context, list, name, data, plan);
    draw_labels(context, list, data, plan, window);
    focus_ring(context, pressed, measure::corner);
    if (!pressed.tapped) return touch;
    touch.entered = pressed.focused && (ImGui::IsKeyPressed(ImGuiKey_Enter) || ImGui::IsKeyPressed(ImGuiKey_Space) ||
                                        ImGui::IsKeyPressed(ImGuiKey_KeypadEnter));
    if (touch.entered) return touch;
    const ImVec2 touched = ImGui::GetIO().MouseClickedPos[0];
    touch.spot = spot_at(context, data, plan, touched);
    if (touch.spot >= 0) return touch;
    touch.floor = {std::clamp((touched.x - plan.floor.x) / scale, 0.0F, data.length),
                   std::clamp((touched.y - plan.floor.y) / scale, 0.0F, data.width)};
    return touch;
}

}  // namespace tapwright::ui
