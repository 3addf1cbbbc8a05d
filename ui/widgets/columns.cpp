#include "ui/widgets/columns.h"

#include <imgui_internal.h>

namespace tapwright::ui {

Column::Column(ImVec2 at, float width) {
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    old_region_max_ = window->ContentRegionRect.Max.x;
    old_work_max_ = window->WorkRect.Max.x;
    ImGui::SetCursorScreenPos(at);
    window->ContentRegionRect.Max.x = window->WorkRect.Max.x = at.x + width;
    ImGui::BeginGroup();
}

Column::~Column() {
    ImGui::EndGroup();
    ImGuiWindow* window = ImGui::GetCurrentWindow();
    window->ContentRegionRect.Max.x = old_region_max_;
    window->WorkRect.Max.x = old_work_max_;
}

float column_bottom() {
    return ImGui::GetItemRectMax().y;
}

}  // namespace tapwright::ui
