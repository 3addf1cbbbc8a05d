// A part of the window with its own margins that does not scroll.
#pragma once

#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>

#include "ui/frame/context.h"
#include "ui/frame/text.h"

namespace tapwright::ui {

// Everything drawn while it lives is inside it. A height of 0 or below: as high as that is.
class Band {
public:
    Band(Context& context, const char* name, float width, float height, Colour ground, float side, float top)
        : context_(context), is_fitted_(height <= 0) {
        ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(context.px(side), context.px(top)));
        ImGui::PushStyleColor(ImGuiCol_ChildBg, ink(ground));
        ImGui::BeginChild(
            name, ImVec2(width, height),
            ImGuiChildFlags_AlwaysUseWindowPadding | ImGuiChildFlags_NavFlattened |
                (height <= 0 ? ImGuiChildFlags_AutoResizeY : 0),
            ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
        ImGui::PopStyleColor();
        ImGui::PopStyleVar();
    }
    // A band as high as what is in it learns its height only by being drawn: one more frame where that has changed.
    ~Band() {
        const ImGuiWindow* window = ImGui::GetCurrentWindow();
        const float wanted = window->DC.CursorMaxPos.y - window->Pos.y + window->WindowPadding.y;
        const bool fits = !is_fitted_ || std::abs(wanted - window->Size.y) < 1;
        ImGui::EndChild();
        if (!fits) context_.requests.another_frame();
    }
    Band(const Band&) = delete;
    Band& operator=(const Band&) = delete;

private:
    Context& context_;
    bool is_fitted_;
};

}  // namespace tapwright::ui
