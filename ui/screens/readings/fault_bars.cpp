#include "ui/screens/readings/fault_bars.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

bool chance_bar(Context& context, std::string_view name, const ChanceBar& bar) {
    const Theme& theme = context.theme;
    const float side = context.px(12), gap = context.px(8), thick = context.px(10);
    const float width = width_left(), room = std::max(1.0F, width - 2 * side);
    const std::string figure = context.words.text(bar.figure);
    const float figure_width = text_width(context, TextSize::strong, "100 %") + gap;
    const Lines lines =
        broken_into_lines(context, TextSize::body, context.words.text(bar.text), std::max(1.0F, room - figure_width));
    const float words = std::max(lines.height, line_height(context, TextSize::strong));
    const float height = std::max(context.px(measure::touch), words + thick + 3 * gap);
    const Touch touch = touchable(context, name, ImVec2(width, height),
                                  context.words.text(read_out({bar.figure, bar.text})), bar.is_touchable);
    context.marks.last().role = bar.is_touchable ? Role::row : Role::text;
    context.marks.last().is_on = bar.is_open;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    Colour fill = bar.is_open ? theme.accent_fill : theme.card;
    if (touch.held) fill = mixed(fill, theme.text, 0.12);
    panel(context, list, a, fill, bar.is_open ? theme.accent : theme.line, measure::corner, bar.is_open ? 2.0F : 1.0F);
    const float first = line_height(context, TextSize::strong);
    write_line(context, list, TextSize::strong, theme.text, figure, {a.x + side, a.y + gap, figure_width, first});
    write(context, list, TextSize::body, theme.text, lines,
          {a.x + side + figure_width, a.y + gap, room - figure_width, words});
    const Area track{a.x + side, a.y + a.height - gap - thick, room, thick};
    panel(context, list, track, theme.field, theme.edge, 5);
    const float filled = std::max(context.px(4), std::floor(static_cast<float>(bar.chance) * room));
    panel(context, list, {track.x, track.y, std::min(filled, room), thick}, theme.accent, theme.accent, 5, 0);
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

}  // namespace tapwright::ui
