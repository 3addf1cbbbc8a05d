#include "ui/app/focus.h"

#include <imgui_internal.h>

namespace tapwright::ui {

void focus_page(unsigned left_on) {
    ImGuiContext& imgui = *ImGui::GetCurrentContext();
    if (ImGui::GetTopMostPopupModal()) return;
    ImGuiWindow* page = ImGui::GetCurrentWindow();
    // The page before is gone with the next frame, and what has the focus there with it.
    if (imgui.NavWindow != page) ImGui::FocusWindow(page);
    if (left_on != 0) {
        ImGui::SetNavID(left_on, ImGuiNavLayer_Main, page->NavRootFocusScopeId, ImRect());
        return;
    }
    // The first thing drawn from now on takes it.
    imgui.NavLayer = ImGuiNavLayer_Main;
    imgui.NavInitRequest = imgui.NavAnyRequest = true;
    imgui.NavInitRequestFromMove = false;
    imgui.NavInitResult.ID = 0;
}

unsigned page_focus() {
    const ImGuiContext& imgui = *ImGui::GetCurrentContext();
    return imgui.NavIdIsAlive && imgui.NavWindow == ImGui::GetCurrentWindow() ? imgui.NavId : 0;
}

}  // namespace tapwright::ui
