#include "ui/drawings/level_map.h"

#include <algorithm>
#include <cmath>

#include "ui/frame/shapes.h"
#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

Colour step_colour(const Theme& theme, std::size_t step, std::size_t steps) {
    return mixed(theme.accent, theme.card, static_cast<double>(step) / static_cast<double>(steps - 1) * 0.92);
}

void draw_floor(Context& context, ImDrawList* list, const LevelMapData& data, Area floor) {
    const float across = floor.width / static_cast<float>(data.columns);
    const float down = floor.height / static_cast<float>(data.rows);
    for (std::size_t row = 0; row < data.rows; ++row) {
        const float top = std::floor(floor.y + down * static_cast<float>(row));
        const float bottom = std::floor(floor.y + down * static_cast<float>(row + 1));
        // One rectangle for each run of cells of the same step.
        for (std::size_t first = 0, column = 1; column <= data.columns; ++column) {
            const auto step_at = [&](std::size_t at) { return data.cells[row * data.columns + at]; };
            if (column < data.columns && step_at(column) == step_at(first)) continue;
            list->AddRectFilled(ImVec2(std::floor(floor.x + across * static_cast<float>(first)), top),
                                ImVec2(std::floor(floor.x + across * static_cast<float>(column)), bottom),
                                ink(step_colour(context.theme, step_at(first), data.key.size())));
            first = column;
        }
    }
    panel(context, list, floor, Colour{0, 0, 0, 0}, context.theme.edge, 0);
    for (const auto& [x, y] : data.spots) {
        const ImVec2 at(floor.x + x / data.length * floor.width, floor.y + y / data.width * floor.height);
        list->AddCircleFilled(at, context.px(6), ink(context.theme.card), 20);
        list->AddCircle(at, context.px(6), ink(context.theme.text), 20, std::max(1.5F, context.px(2)));
    }
}

// The steps that occur, each with its figures; wraps.
void draw_key(Context& context, const LevelMapData& data) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float sign = context.px(20), gap = context.px(6), height = line_height(context, TextSize::body);
    const float width = width_left();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    float x = 0, y = 0;
    for (std::size_t step = 0; step < data.key.size(); ++step) {
        const std::string words = context.words.text(data.key[step]);
        if (words.empty()) continue;
        const float words_width = text_width(context, TextSize::body, words);
        if (x > 0 && x + sign + gap + words_width > width) x = 0, y += height + gap;
        panel(context, list, {at.x + x, at.y + y, sign, height}, step_colour(context.theme, step, data.key.size()),
              context.theme.edge, 2);
        write_line(context, list, TextSize::body, context.theme.text, words,
                   {at.x + x + sign + gap, at.y + y, words_width, height});
        x += sign + gap + words_width + context.px(16);
    }
    ImGui::Dummy(ImVec2(width, y + height));
}

}  // namespace

void level_map_drawing(Context& context, std::string_view name, const LevelMapData& data, float most_units) {
    if (data.columns == 0 || data.rows == 0 || data.cells.size() < data.columns * data.rows || data.key.size() < 2)
        return;
    const float room = width_left(), scale = std::min(room / data.length, context.px(most_units) / data.width);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area floor{at.x, at.y, std::max(1.0F, std::floor(data.length * scale)),
                     std::max(1.0F, std::floor(data.width * scale))};
    ImGui::Dummy(ImVec2(room, floor.height));
    draw_floor(context, ImGui::GetWindowDrawList(), data, floor);
    mark_area(context, name, floor, context.words.text(data.words), Role::image);
    draw_key(context, data);
}

}  // namespace tapwright::ui
