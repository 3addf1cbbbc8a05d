#include "ui/drawings/room_plan.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float spot_units = 13, finger_units = 24, step_metres = 0.25F, most_lines = 24;
constexpr float worth_turning = 1.15F;  // so much larger
constexpr float drag_units = 8;         // from which a touch that moves is a drag

struct Sheet {
    Area floor;
    float scale;   // pixels a metre
    float across;  // metres from left to right
    bool turned;   // by a quarter, clockwise: the length runs downwards, the width from right to left
    ImVec2 at(const PlanSpot& spot, const RoomPlanData& data) const {
        // What is recorded outside of the room stands at its wall.
        const float x = std::clamp(spot.x, 0.0F, data.length), y = std::clamp(spot.y, 0.0F, data.width);
        const ImVec2 metres = turned ? ImVec2(across - y, x) : ImVec2(x, y);
        return {floor.x + metres.x * scale, floor.y + metres.y * scale};
    }
    // Along the length and along the width.
    std::array<float, 2> metres_at(ImVec2 pixels, const RoomPlanData& data) const {
        const float right = (pixels.x - floor.x) / scale, down = (pixels.y - floor.y) / scale;
        const float x = turned ? down : right, y = turned ? across - right : down;
        return {std::clamp(x, 0.0F, data.length), std::clamp(y, 0.0F, data.width)};
    }
};

Sheet sheet_of(const Context& context, const RoomPlanData& data, ImVec2 at, float room, float height) {
    const float edge = context.px(spot_units);
    const auto scale_of = [&](float across, float down) {
        return std::min((room - 2 * edge) / across, (height - 2 * edge) / down);
    };
    const float straight = scale_of(data.length, data.width), quarter = scale_of(data.width, data.length);
    const bool turned = quarter > straight * worth_turning;
    const float scale = turned ? quarter : straight;
    const float across = turned ? data.width : data.length, down = turned ? data.length : data.width;
    const Area floor{std::floor(at.x + (room - across * scale) / 2), at.y + edge,
                     std::max(1.0F, std::floor(across * scale)), std::max(1.0F, std::floor(down * scale))};
    return {floor, scale, across, turned};
}

void draw_grid(Context& context, ImDrawList* list, const RoomPlanData& data, const Sheet& plan) {
    const Area& floor = plan.floor;
    panel(context, list, floor, context.theme.card, context.theme.edge, 0, 2);
    const auto line = [&](float x0, float y0, float x1, float y1) {
        list->AddLine(ImVec2(x0, y0), ImVec2(x1, y1), ink(context.theme.line), 1);
    };
    const float across = plan.across, down = plan.turned ? data.length : data.width;
    const auto line_at = [&](int number) { return static_cast<float>(number) * data.grid; };
    for (int i = 1; line_at(i) < across - data.grid / 100; ++i) {
        const float x = line_at(i);
        // The grid begins in the room's first corner, which a turned plan has at its right.
        const float at = floor.x + (plan.turned ? across - x : x) * plan.scale;
        line(at, floor.y, at, floor.y + floor.height);
    }
    for (int i = 1; line_at(i) < down - data.grid / 100; ++i) {
        const float at = floor.y + line_at(i) * plan.scale;
        line(floor.x, at, floor.x + floor.width, at);
    }
}

bool meet(const Area& one, const Area& other) {
    return one.x < other.x + other.width && other.x < one.x + one.width && one.y < other.y + other.height &&
           other.y < one.y + one.height;
}

bool is_within(const Area& area, const Area& whole) {
    return area.x >= whole.x && area.x + area.width <= whole.x + whole.width && area.y >= whole.y &&
           area.y + area.height <= whole.y + whole.height;
}

// Labels stand beside their spots where there is room for them: the selected one's first, none over another, and over
// the room's wall only where there is no room inside.
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
        for (const Area& whole : {plan.floor, window}) {
            for (const Area& area : beside) {
                const auto meets = [&](const Area& a) { return meet(a, area); };
                if (!is_within(area, whole) || std::any_of(taken.begin(), taken.end(), meets)) continue;
                taken.push_back(area);
                return write_line(context, list, TextSize::body, context.theme.text, words, area);
            }
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

// Returns: which of them was touched by its name, or -1.
int draw_spots(Context& context, ImDrawList* list, std::string_view name, const RoomPlanData& data, const Sheet& plan) {
    const InGroup group(context.marks, name);
    int tapped = -1;
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
            std::string(name) + ".spot." + spot.id, area, intersection(area, area_of(clip.Min, clip.Max)), true, true,
            context.words.text(spot.label)};
        mark.role = Role::choice;
        mark.is_on = chosen;
        mark.window = ImGui::GetCurrentWindow()->ID;
        if (context.hand.taps(mark.name)) tapped = static_cast<int>(i);
        context.marks.add(std::move(mark));
    }
    return tapped;
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
std::array<float, 2> step_by_key(bool focused, const RoomPlanData& data, bool turned) {
    if (!focused || data.selected < 0) return {0, 0};
    const auto pressed = [](ImGuiKey key) {
        ImGui::SetKeyOwner(key, ImGui::GetItemID());
        return ImGui::IsKeyPressed(key) ? step_metres : 0;
    };
    const float right = pressed(ImGuiKey_RightArrow) - pressed(ImGuiKey_LeftArrow);
    const float down = pressed(ImGuiKey_DownArrow) - pressed(ImGuiKey_UpArrow);
    return turned ? std::array{down, -right} : std::array{right, down};
}

// The spot under the press that is being made, and how far it has been dragged since. The press says it all: nothing
// is kept from frame to frame.
struct Drag {
    int spot = -1;
    bool is_far = false, is_over = false;
    ImVec2 by = {0, 0};  // pixels
};
// Requires: the plan was the item added last.
Drag drag_of(Context& context, const RoomPlanData& data, const Sheet& plan) {
    const ImGuiIO& io = ImGui::GetIO();
    const bool is_let_go = ImGui::IsItemDeactivated() && ImGui::IsMouseReleased(ImGuiMouseButton_Left);
    if (context.read_only || (!ImGui::IsItemActive() && !is_let_go)) return {};
    if (!ImGui::IsMousePosValid(&io.MousePos) || !ImGui::IsMousePosValid(&io.MouseClickedPos[0])) return {};
    Drag drag;
    drag.spot = spot_at(context, data, plan, io.MouseClickedPos[0]);
    if (drag.spot < 0) return {};
    context.gesture.claim_drag();
    drag.by = {io.MousePos.x - io.MouseClickedPos[0].x, io.MousePos.y - io.MouseClickedPos[0].y};
    drag.is_far = std::hypot(drag.by.x, drag.by.y) > context.px(drag_units);
    drag.is_over = is_let_go;
    return drag;
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
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float room = width_left();
    const Sheet plan = sheet_of(context, data, at, room, height);
    const Area window{at.x, at.y, room,
                      std::max(context.px(measure::touch), plan.floor.height + 2 * context.px(spot_units))};
    touch.turned = plan.turned;
    const Touch pressed = touchable(context, name, ImVec2(window.width, window.height), context.words.text(data.words));
    context.marks.last().role = Role::image;
    context.marks.last().by_place = true;
    const Drag drag = drag_of(context, data, plan);
    touch.step = step_by_key(pressed.focused, data, plan.turned);
    RoomPlanData shown = data;
    if (drag.is_far) {
        PlanSpot& spot = shown.spots[static_cast<std::size_t>(drag.spot)];
        const ImVec2 from = plan.at(spot, data);
        const std::array<float, 2> to = plan.metres_at({from.x + drag.by.x, from.y + drag.by.y}, data);
        spot.x = to[0], spot.y = to[1];
        shown.selected = drag.spot;
        if (drag.is_over) touch.dropped = PlanTouch::Dropped{drag.spot, to};
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_grid(context, list, shown, plan);
    touch.spot = draw_spots(context, list, name, shown, plan);
    draw_labels(context, list, shown, plan, window);
    focus_ring(context, pressed, measure::corner);
    if (touch.spot >= 0 || !pressed.tapped || drag.is_far) return touch;
    touch.entered = pressed.focused && (ImGui::IsKeyPressed(ImGuiKey_Enter) || ImGui::IsKeyPressed(ImGuiKey_Space) ||
                                        ImGui::IsKeyPressed(ImGuiKey_KeypadEnter));
    if (touch.entered) return touch;
    const ImVec2 touched = ImGui::GetIO().MouseClickedPos[0];
    touch.spot = spot_at(context, data, plan, touched);
    if (touch.spot < 0) touch.floor = plan.metres_at(touched, data);
    return touch;
}

}  // namespace tapwright::ui
