#include "ui/level_map_drawing.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "ui/shapes.h"
#include "ui/text.h"
#include "ui/touchable.h"

namespace tapwright::ui {
namespace {

Colour step_colour(const Theme& theme, int step) {
    return mixed(theme.accent, theme.card, static_cast<double>(step) / (level_steps - 1) * 0.92);
}

void draw_floor(Context& context, ImDrawList* list, const LevelMapData& data, Area floor) {
    const float across = floor.width / static_cast<float>(data.columns);
    const float down = floor.height / static_cast<float>(data.rows);
    for (std::size_t row = 0; row < data.rows; ++row) {
        const float top = std::floor(floor.y + down * static_cast<float>(row));
        const float bottom = std::floor(floor.y + down * static_cast<float>(row + 1));
        // One rectangle for each run of cells of the same step.
        for (std::size_t first = 0, column = 1; column <= data.columns; ++column) {
            const auto step_at = [&](std::size_t at) {
                return level_step(data.db[row * data.columns + at], data.loudest);
            };
            if (column < data.columns && step_at(column) == step_at(first)) continue;
            list->AddRectFilled(ImVec2(std::floor(floor.x + across * static_cast<float>(first)), top),
                                ImVec2(std::floor(floor.x + across * static_cast<float>(column)), bottom),
                                ink(step_colour(context.theme, step_at(first))));
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

std::string step_words(const LevelMapData& data, int step) {
    const float from = data.loudest - step_db * static_cast<float>(step);
    if (step + 1 == level_steps) return "below " + rounded(static_cast<double>(from), 0);
    return rounded(static_cast<double>(from), 0) + " to " + rounded(static_cast<double>(from - step_db), 0);
}

// The steps that occur, each with its figures; wraps.
void draw_key(Context& context, const LevelMapData& data) {
    std::array<bool, level_steps> occurs{};
    for (const float db : data.db) occurs[static_cast<std::size_t>(level_step(db, data.loudest))] = true;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float sign = context.px(20), gap = context.px(6), height = line_height(context, TextSize::body);
    const float width = width_left();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    float x = 0, y = 0;
    for (int step = 0; step < level_steps; ++step) {
        if (!occurs[static_cast<std::size_t>(step)]) continue;
        const std::string words = step_words(data, step) + " dB";
        const float words_width = text_width(context, TextSize::body, words);
        if (x > 0 && x + sign + gap + words_width > width) x = 0, y += height + gap;
        panel(context, list, {at.x + x, at.y + y, sign, height}, step_colour(context.theme, step), context.theme.edge,
              2);
        write_line(context, list, TextSize::body, context.theme.text, words,
                   {at.x + x + sign + gap, at.y + y, words_width, height});
        x += sign + gap + words_width + context.px(16);
    }
    ImGui::Dummy(ImVec2(width, y + height));
}

}  // namespace

int level_step(float db, float loudest) {
    return std::clamp(static_cast<int>(std::floor((loudest - db) / step_db)), 0, level_steps - 1);
}

void level_map_drawing(Context& context, std::string_view name, const LevelMapData& data, float most_units) {
    if (data.columns == 0 || data.rows == 0 || data.db.size() < data.columns * data.rows) return;
    const float room = width_left(), scale = std::min(room / data.length, context.px(most_units) / data.width);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const Area floor{at.x, at.y, std::max(1.0F, std::floor(data.length * scale)),
                     std::max(1.0F, std::floor(data.width * scale))};
    ImGui::Dummy(ImVec2(room, floor.height));
    draw_floor(context, ImGui::GetWindowDrawList(), data, floor);
    mark_area(context, name, floor, data.words);
    draw_key(context, data);
}

}  // namespace tapwright::ui
