#include "ui/widgets/signature.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float share_of_width_high = 0.4F;  // as the sheets draw it
constexpr float stroke_units = 2.5F;
constexpr std::size_t most_points = 4000;  // of a whole signature; what comes after is not written

std::size_t points_in(const SignatureDraft& draft) {
    std::size_t count = 0;
    for (const auto& stroke : draft.strokes) count += stroke.size();
    return count;
}

void draw_strokes(Context& context, const std::vector<std::vector<std::array<double, 2>>>& strokes, const Area& area) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float thick = std::max(1.5F, context.px(stroke_units));
    std::vector<ImVec2> path;
    for (const auto& stroke : strokes) {
        path.clear();
        for (const auto& [x, y] : stroke)
            path.emplace_back(area.x + static_cast<float>(std::clamp(x, 0.0, 1.0)) * area.width,
                              area.y + static_cast<float>(std::clamp(y, 0.0, 1.0)) * area.height);
        if (path.size() == 1) list->AddCircleFilled(path.front(), thick, ink(context.theme.text));
        if (path.size() > 1)
            list->AddPolyline(path.data(), static_cast<int>(path.size()), ink(context.theme.text), 0, thick);
    }
}

// Adds where the pointer is now, where it has moved enough to be seen.
void write_on(Context& context, SignatureDraft& draft, const Area& area) {
    const ImVec2 at = ImGui::GetIO().MousePos;
    // Finer than any pen is no gain to whoever reads the file.
    const auto share = [](float part, float whole) {
        return std::round(static_cast<double>(std::clamp(part / whole, 0.0F, 1.0F)) * 10000) / 10000;
    };
    const std::array<double, 2> point = {share(at.x - area.x, area.width), share(at.y - area.y, area.height)};
    auto& stroke = draft.strokes.back();
    const double least = static_cast<double>(context.px(1) / area.width);
    const bool moved = stroke.empty() || std::hypot(point[0] - stroke.back()[0], point[1] - stroke.back()[1]) >= least;
    if (moved && points_in(draft) < most_points) stroke.push_back(point);
}

}  // namespace

void signature_field(Context& context, std::string_view name, const Message& words, SignatureDraft& draft,
                     float most_units) {
    const float width = width_left();
    const float height =
        std::max(context.px(measure::touch), std::min(std::floor(width * share_of_width_high), context.px(most_units)));
    const Message said = draft.strokes.empty() ? words : Message("{field}, written", {{"field", words}});
    const Touch touch = touchable(context, name, ImVec2(width, height), context.words.text(said), !context.read_only);
    context.marks.last().role = Role::image;
    context.marks.last().by_place = true;
    context.gesture.claim_drag();
    const bool writes = touch.held && ImGui::IsMouseDown(ImGuiMouseButton_Left);  // not by Enter or Space
    if (writes && !draft.is_drawing) draft.strokes.emplace_back();
    draft.is_drawing = writes;
    if (draft.is_drawing) write_on(context, draft, touch.area);
    ImDrawList* list = ImGui::GetWindowDrawList();
    panel(context, list, touch.area, context.theme.field, context.theme.edge, measure::corner);
    const float line = touch.area.y + std::floor(height * 0.78F), inset = context.px(16);
    list->AddLine(ImVec2(touch.area.x + inset, line), ImVec2(touch.area.x + width - inset, line),
                  ink(context.theme.edge), std::max(1.0F, context.px(1)));
    if (draft.strokes.empty()) {
        const Lines hint = broken_into_lines(context, TextSize::body, context.words.text(words), width - 2 * inset, 2);
        write(context, list, TextSize::body, context.theme.quiet_text, hint,
              {touch.area.x + inset, touch.area.y, width - 2 * inset, height}, Align::centre);
    }
    draw_strokes(context, draft.strokes, touch.area);
    focus_ring(context, touch, measure::corner);
}

void signature_picture(Context& context, std::string_view name, const Message& words,
                       const std::vector<std::vector<std::array<double, 2>>>& strokes, float width, float height) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, height));
    const Area area{at.x, at.y, width, height};
    draw_strokes(context, strokes, area);
    mark_area(context, name, area, context.words.text(words), Role::image);
}

}  // namespace tapwright::ui
