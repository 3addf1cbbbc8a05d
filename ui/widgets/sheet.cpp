#include "ui/widgets/sheet.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "ui/frame/text.h"
#include "ui/widgets/buttons.h"
#include "ui/widgets/layout.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float dialog_width = 520;
constexpr float whole_width = 880, whole_height = 780, whole_height_in_the_middle = 520;

// On a wide window; on a phone it comes from the bottom.
bool is_in_the_middle(const Context& context) {
    return context.wide || ImGui::GetIO().DisplaySize.x > context.px(640);
}

}  // namespace

Sheet::Sheet(Context& context, std::string_view name, const Message& title, bool& open, SheetSize size)
    : context_(context), name_(name), title_(title), open_(open) {
    const std::string& id = name_;
    if (open && !ImGui::IsPopupOpen(id.c_str())) {
        ImGui::OpenPopup(id.c_str());
        context.requests.another_frame();
    }
    if (!open && !ImGui::IsPopupOpen(id.c_str())) return;
    place(context, size);
    const bool middle = is_in_the_middle(context);
    const float margin = context.px(measure::margin);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(margin, margin));
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, middle ? context.px(16) : 0.0F);
    const Colour ground = mixed(context.theme.page, context.theme.card, 0.5);
    ImGui::PushStyleColor(ImGuiCol_PopupBg, ink(ground));
    shown_ = ImGui::BeginPopupModal(id.c_str(), nullptr,
                                    ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove |
                                        (size == SheetSize::fitted ? ImGuiWindowFlags_AlwaysAutoResize : 0) |
                                        ImGuiWindowFlags_NoSavedSettings);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar(2);
    if (!shown_) return;
    part_.emplace(context.marks, PartKind::dialog, name);
    if (ImGui::IsWindowAppearing()) context.requests.another_frame();  // its size is known only after one frame
    if (size == SheetSize::fitted) head();
    const bool typing = ImGui::GetActiveID() != 0 && ImGui::GetInputTextState(ImGui::GetActiveID());
    if (!typing && ImGui::IsKeyPressed(ImGuiKey_Escape, false)) open_ = false;
}

void Sheet::place(const Context& context, SheetSize size) const {
    const ImVec2 window = ImGui::GetIO().DisplaySize;
    const bool middle = is_in_the_middle(context);
    if (middle)
        ImGui::SetNextWindowPos(ImVec2(window.x / 2, window.y / 2), ImGuiCond_Always, ImVec2(0.5F, 0.5F));
    else
        ImGui::SetNextWindowPos(ImVec2(0, window.y), ImGuiCond_Always, ImVec2(0, 1));
    if (size == SheetSize::whole) {
        const float width = middle ? std::min(window.x, context.px(whole_width)) : window.x;
        const float height = std::min(window.y, context.px(middle ? whole_height_in_the_middle : whole_height));
        return ImGui::SetNextWindowSize(ImVec2(width, height), ImGuiCond_Always);
    }
    const float width = middle ? std::min(window.x, context.px(dialog_width)) : window.x;
    const float most = std::floor(window.y * (middle ? 0.9F : 0.94F));
    ImGui::SetNextWindowSizeConstraints(ImVec2(width, 0), ImVec2(width, most));
}

void Sheet::head() {
    const float key = context_.px(measure::touch), gap = context_.px(measure::gap), width = width_left();
    const float room = std::max(1.0F, width - key - gap);
    const Lines lines = broken_into_lines(context_, TextSize::title, context_.words.text(title_), room, 2);
    const float height = std::max(key, lines.height);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    write(context_, ImGui::GetWindowDrawList(), TextSize::title, context_.theme.text, lines,
          {at.x, at.y, room, height});
    mark_area(context_, name_ + ".title", {at.x, at.y, room, height}, lines.full, Role::heading);
    context_.marks.last().level = 1;
    ImGui::Dummy(ImVec2(room, height));
    ImGui::SameLine(0, gap);
    if (icon_button(context_, name_ + ".close", Shape::cross, Message("Close"))) open_ = false;
}

Sheet::~Sheet() {
    if (!shown_) return;
    if (!open_) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
}

Answer ask(Context& context, std::string_view name, const Message& title, const Message& sentence, const Message& yes,
           const Message& no, bool& open, Tone tone) {
    Answer answer = Answer::none;
    const bool was_open = open;
    if (Sheet sheet(context, name, title, open); sheet) {
        tone_box(context, std::string(name) + ".why", tone, sentence);
        if (button(context, std::string(name) + ".yes", yes, {.kind = ButtonKind::primary})) answer = Answer::yes;
        if (button(context, std::string(name) + ".no", no)) answer = Answer::no;
        if (answer != Answer::none) open = false;
    }
    if (was_open && !open && answer == Answer::none) answer = Answer::no;
    return answer;
}

}  // namespace tapwright::ui
