#include "ui/frame/toolkit.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>

#include "ui/frame/text.h"

namespace tapwright::ui {
namespace {

ImVec4 floats(Colour colour) {
    return ImGui::ColorConvertU32ToFloat4(ink(colour));
}

}  // namespace

Toolkit::Toolkit(Host& host) : host_(host), imgui_(ImGui::CreateContext()) {
    ImGui::SetCurrentContext(imgui_);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.ConfigFlags |= ImGuiConfigFlags_NavEnableKeyboard;
    io.ConfigInputTextCursorBlink = false;  // nothing moves by itself
    io.ConfigNavEscapeClearFocusItem = false;
    imgui_->ConfigNavWindowingKeyNext = imgui_->ConfigNavWindowingKeyPrev = 0;  // there is one window
    fonts_.load(host_);
}

Toolkit::~Toolkit() {
    ImGui::DestroyContext(imgui_);
}

void Toolkit::take_up_preferences() {
    const bool night = preferences.appearance == Preferences::Appearance::night ||
                       (preferences.appearance == Preferences::Appearance::system && host_.prefers_night());
    const float scale = std::clamp(host_.content_scale() * preferences.text_scale, 1.0F, 4.0F);
    if (context_ && night == theme_.night && scale == scale_) return;
    rows_.forget();
    theme_ = night ? night_theme() : day_theme();
    scale_ = scale;
    set_style();
    context_ = std::make_unique<Context>(Context{theme_, scale_, fonts_, gesture_, marks_, hand_, rows_, host_,
                                                 requests_, preferences, native_areas_, Words(), nullptr, false, 0});
}

// What Dear ImGui draws itself: windows, the text being typed, scrollbars. The rest is drawn by our widgets.
void Toolkit::set_style() {
    ImGuiStyle& style = ImGui::GetStyle();
    style = ImGuiStyle();
    const auto px = [this](float units) { return units * scale_; };
    style.WindowPadding = style.FramePadding = style.ItemInnerSpacing = ImVec2(0, 0);
    style.ItemSpacing = ImVec2(px(measure::gap), px(measure::gap));
    style.WindowRounding = style.ChildRounding = 0;
    style.PopupRounding = px(18);
    style.FrameRounding = px(measure::corner);
    style.WindowBorderSize = style.ChildBorderSize = style.FrameBorderSize = style.PopupBorderSize = 0;
    style.ScrollbarSize = px(8);
    style.ScrollbarRounding = px(4);
    style.DisabledAlpha = 1;  // disabled widgets are drawn as such by ourselves
    style.MouseCursorScale = 1;
    style.AntiAliasedLinesUseTex = false;
    const Colour none{0, 0, 0, 0};
    const std::pair<ImGuiCol, Colour> colours[] = {
        {ImGuiCol_Text, theme_.text},
        {ImGuiCol_WindowBg, theme_.page},
        {ImGuiCol_ChildBg, none},
        {ImGuiCol_PopupBg, theme_.card},
        {ImGuiCol_FrameBg, none},
        {ImGuiCol_FrameBgHovered, none},
        {ImGuiCol_FrameBgActive, none},
        {ImGuiCol_ScrollbarBg, none},
        {ImGuiCol_ScrollbarGrab, theme_.edge},
        {ImGuiCol_ScrollbarGrabHovered, theme_.quiet_text},
        {ImGuiCol_ScrollbarGrabActive, theme_.accent},
        {ImGuiCol_TextSelectedBg, theme_.accent_fill},
        {ImGuiCol_InputTextCursor, theme_.accent_text},
        {ImGuiCol_NavCursor, none},
        {ImGuiCol_ModalWindowDimBg, faded(theme_.night ? Colour{0, 0, 0, 255} : theme_.text, 150)},
    };
    for (const auto& [index, colour] : colours) style.Colors[index] = floats(colour);
}

void Toolkit::begin(double seconds, float width, float height) {
    ImGui::SetCurrentContext(imgui_);
    take_up_preferences();
    ImGuiIO& io = ImGui::GetIO();
    io.DisplaySize = ImVec2(width, height);
    io.DeltaTime = last_seconds_ < 0 ? 1.0F / 60 : static_cast<float>(std::clamp(seconds - last_seconds_, 1e-4, 0.25));
    last_seconds_ = seconds;
    hand_.begin_frame(marks_, gesture_);
    ImGui::GetStyle().FontSizeBase = Fonts::pixels(TextSize::body, scale_);
    ImGui::NewFrame();
    ImGui::GetCurrentContext()->DimBgRatio = 1;  // a dialog is there at once, without a fade
    ImGui::PushFont(fonts_.font(TextSize::body), Fonts::pixels(TextSize::body, scale_));
    gesture_.begin_frame(seconds, scale_);
    marks_.begin_frame();
    native_areas_.clear();
    if (&context_->words.language() != preferences.language) rows_.forget();
    context_->words = Words(*preferences.language);
    context_->low = width > height && height < measure::high_from * scale_ && height >= measure::rail_from * scale_;
    context_->paired = !context_->low && width >= measure::paired_from * scale_;
    context_->wide = !context_->low && width >= measure::wide_from * scale_;
    // What lies in the page has its new place some frames later.
    constexpr int until_settled = 3;
    frames_since_reshaped_ = width != width_ || height != height_ ? 0 : frames_since_reshaped_ + 1;
    width_ = width;
    height_ = height;
    context_->reshaped = frames_since_reshaped_ < until_settled;
    context_->seconds = seconds;
    context_->frame += 1;
}

namespace {

// What has the keyboard's focus: the field being typed into, else what the keys would act on.
unsigned focused_item() {
    const ImGuiContext& imgui = *ImGui::GetCurrentContext();
    if (imgui.ActiveId != 0 && ImGui::GetInputTextState(imgui.ActiveId)) return imgui.ActiveId;
    return imgui.NavWindow && imgui.NavIdIsAlive ? imgui.NavId : 0;
}

}  // namespace

void Toolkit::end() {
    marks_.end_frame(focused_item());
    ImGui::PopFont();
    ImGui::Render();
    another_frame_ = fonts_.load_missing(host_);
    if (another_frame_) rows_.forget();
    if (native_areas_ != published_areas_) {
        published_areas_ = native_areas_;
        host_.publish_native_areas(published_areas_);
    }
}

void Toolkit::settle(Program& program) {
    const bool asked = requests_.any();
    if (!requests_.preferred.empty()) preferences = requests_.preferred.back();
    program.settle(requests_);
    if (asked) rows_.forget();
    requests_ = Requests();
    another_frame_ = another_frame_ || asked;
}

double Toolkit::next_frame_in() const {
    // Queued input that Dear ImGui spreads over frames must not wait for the next touch.
    const bool queued = !imgui_->InputEventsQueue.empty();
    if (another_frame_ || queued || hand_.wants_frame()) return 0;
    return gesture_.next_frame_in();
}

}  // namespace tapwright::ui
