#include "tests/ui/frame/person.h"

#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <ctime>
#include <fstream>
#include <iostream>
#include <iterator>
#include <set>

namespace tapwright::tests {
namespace {

using ui::Area;
using ui::Gesture;

constexpr auto touch = Gesture::Pointer::touch;

std::string face(const char* name) {
    for (const char* folder : {"/usr/share/fonts/opentype/inter/", "/usr/share/fonts/truetype/inter/"}) {
        std::ifstream file(std::string(folder) + name, std::ios::binary);
        if (file) return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
    }
    std::cerr << "The typeface " << name << " was not found: install the package fonts-inter.\n";
    std::abort();
}

float middle_x(const Area& area) {
    return area.x + area.width / 2;
}
float middle_y(const Area& area) {
    return area.y + area.height / 2;
}

// What a renderer does with Dear ImGui's textures, without one.
void take_textures() {
    for (ImTextureData* texture : ImGui::GetPlatformIO().Textures) {
        if (texture->Status == ImTextureStatus_WantCreate) {
            texture->SetTexID(1);
            texture->SetStatus(ImTextureStatus_OK);
        } else if (texture->Status == ImTextureStatus_WantUpdates) {
            texture->SetStatus(ImTextureStatus_OK);
        } else if (texture->Status == ImTextureStatus_WantDestroy) {
            texture->SetTexID(ImTextureID_Invalid);
            texture->SetStatus(ImTextureStatus_Destroyed);
        }
    }
}

std::string at(const Area& a) {
    const auto whole = [](float value) { return std::to_string(static_cast<int>(value)); };
    return "[" + whole(a.x) + " " + whole(a.y) + " " + whole(a.width) + " " + whole(a.height) + "]";
}

}  // namespace

const std::string& regular_face() {
    static const std::string bytes = face("Inter-Regular.otf");
    return bytes;
}

const std::string& semibold_face() {
    static const std::string bytes = face("Inter-SemiBold.otf");
    return bytes;
}

Person::Person(ui::Program& program, Screen screen, std::string_view regular, std::string_view semibold)
    : program_(program), width_(screen.width * screen.scale), height_(screen.height * screen.scale) {
    host.scale = screen.scale;
    host.night = screen.night;
    host.regular = regular;
    host.semibold = semibold;
    toolkit = std::make_unique<ui::Toolkit>(host);
    ImGui::GetIO().BackendFlags |= ImGuiBackendFlags_RendererHasTextures;
    frames(4);
}

void Person::frame(double step_seconds) {
    now_ += step_seconds;
    const std::clock_t start = std::clock();
    toolkit->begin(now_, width_, height_);
    program_.draw(toolkit->context());
    toolkit->end();
    take_textures();
    toolkit->settle(program_);
    constexpr double thousand = 1000;
    longest_frame_ms =
        std::max(longest_frame_ms, thousand * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
}

void Person::frames(int count, double step_seconds) {
    for (int i = 0; i < count; ++i) frame(step_seconds);
}

void Person::resize(float width, float height) {
    width_ = width * host.scale;
    height_ = height * host.scale;
    settle();
}

int Person::settle() {
    int count = 3;
    frames(3);
    while (toolkit->next_frame_in() == 0 && count < 1000) {
        frame(1.0 / 60);
        ++count;
    }
    return count;
}

ui::Mark Person::mark(std::string_view name) {
    const ui::Mark* found = toolkit->marks().find(name);
    if (!found) {
        std::string all;
        for (const ui::Mark& each : toolkit->marks().all()) all += " " + each.name;
        FAIL("there is no mark called ", std::string(name), " among", all);
    }
    return *found;
}

bool Person::has(std::string_view name) {
    return toolkit->marks().find(name) != nullptr;
}

bool Person::sees(std::string_view name) {
    const ui::Mark* found = toolkit->marks().find(name);
    return found && found->visible();
}

std::string Person::focused() {
    const ImGuiContext& imgui = *ImGui::GetCurrentContext();
    if (!imgui.NavWindow || imgui.NavId == 0) return {};
    const ImRect area = ImGui::WindowRectRelToAbs(imgui.NavWindow, imgui.NavWindow->NavRectRel[imgui.NavLayer]);
    for (const ui::Mark& each : toolkit->marks().all())
        if (each.touchable && std::abs(each.area.x - area.Min.x) < 2 && std::abs(each.area.y - area.Min.y) < 2)
            return each.name;
    return {};
}

void Person::tap_at(float x, float y) {
    ++touches_;
    toolkit->gesture().pressed(1, x, y, now_, touch);
    frames(3);
    toolkit->gesture().released(1, now_);
    settle();
}

void Person::tap(std::string_view name) {
    const ui::Mark found = mark(name);
    REQUIRE_MESSAGE(found.visible(), std::string(name), " is not in sight");
    REQUIRE_MESSAGE(found.enabled, std::string(name), " is not enabled");
    tap_at(middle_x(found.shown), middle_y(found.shown));
}

void Person::quick_tap(std::string_view name) {
    const ui::Mark found = mark(name);
    toolkit->gesture().pressed(1, middle_x(found.shown), middle_y(found.shown), now_, touch);
    toolkit->gesture().released(1, now_ + 0.001);
    settle();
}

void Person::hold(std::string_view name, double seconds) {
    const ui::Mark found = mark(name);
    toolkit->gesture().pressed(1, middle_x(found.shown), middle_y(found.shown), now_, touch);
    const double end = now_ + seconds;
    while (now_ < end) frame(1.0 / 60);
    toolkit->gesture().released(1, now_);
    settle();
}

void Person::drag(float x0, float y0, float x1, float y1, int steps, double step_seconds) {
    toolkit->gesture().pressed(1, x0, y0, now_, touch);
    frames(1, step_seconds);
    for (int i = 1; i <= steps; ++i) {
        const float share = static_cast<float>(i) / static_cast<float>(steps);
        toolkit->gesture().moved(1, x0 + (x1 - x0) * share, y0 + (y1 - y0) * share, now_, touch);
        frames(1, step_seconds);
    }
    frames(12, step_seconds);  // held still before lifting: no fling
    toolkit->gesture().released(1, now_);
    settle();
}

void Person::fling(float x, float y0, float y1) {
    toolkit->gesture().pressed(1, x, y0, now_, touch);
    frame(1.0 / 60);
    for (int i = 1; i <= 5; ++i) {
        toolkit->gesture().moved(1, x, y0 + (y1 - y0) * static_cast<float>(i) / 5, now_, touch);
        frame(1.0 / 60);
    }
    toolkit->gesture().released(1, now_);
    frame(1.0 / 60);
}

void Person::pinch(float x, float y, float from, float to) {
    toolkit->gesture().pressed(1, x, y - from / 2, now_, touch);
    frames(2);
    toolkit->gesture().pressed(2, x, y + from / 2, now_, touch);
    frames(1);
    for (int i = 1; i <= 10; ++i) {
        const float apart = from + (to - from) * static_cast<float>(i) / 10;
        toolkit->gesture().moved(1, x, y - apart / 2, now_, touch);
        toolkit->gesture().moved(2, x, y + apart / 2, now_, touch);
        frames(1);
    }
    toolkit->gesture().released(2, now_);
    toolkit->gesture().released(1, now_);
    settle();
}

void Person::wheel(float x, float y, float notches) {
    toolkit->gesture().moved(0, x, y, now_, Gesture::Pointer::mouse);
    frames(2);
    ImGui::GetIO().AddMouseWheelEvent(0, notches);
    settle();
}

void Person::type(std::string_view text) {
    ImGui::GetIO().AddInputCharactersUTF8(std::string(text).c_str());
    settle();
}

void Person::press(ImGuiKeyChord key) {
    ImGuiIO& io = ImGui::GetIO();
    const auto key_only = static_cast<ImGuiKey>(key & ~ImGuiMod_Mask_);
    for (ImGuiKey modifier : {ImGuiMod_Ctrl, ImGuiMod_Shift, ImGuiMod_Alt})
        if (key & modifier) io.AddKeyEvent(modifier, true);
    io.AddKeyEvent(key_only, true);
    frames(2);
    io.AddKeyEvent(key_only, false);
    for (ImGuiKey modifier : {ImGuiMod_Ctrl, ImGuiMod_Shift, ImGuiMod_Alt})
        if (key & modifier) io.AddKeyEvent(modifier, false);
    settle();
}

void Person::find(std::string_view name) {
    for (int tries = 0; tries < 60; ++tries) {
        const ui::Mark found = mark(name);
        // What is higher than the page's part of the window cannot be seen whole.
        if (found.visible() && (found.shown.height > found.area.height * 0.9F || tries > 20)) return;
        // Towards the middle of what lies between the strip and the bars at the bottom; from elsewhere where that does
        // not move the page, because what is touched there keeps the drag.
        const float away = middle_y(found.area) - height_ * 0.55F;
        const float step = std::clamp(std::abs(away), 24.0F, height_ * 0.25F);
        const float elsewhere = 0.08F * static_cast<float>(tries % 5);
        const float from = height_ * (away > 0 ? 0.6F - elsewhere : 0.45F + elsewhere);
        const float x = std::clamp(middle_x(found.area), 1.0F, width_ - 1);
        drag(x, from, x, away > 0 ? from - step : from + step);
    }
    FAIL_CHECK("could not scroll to ", std::string(name), " ", at(mark(name).area), " seen ", at(mark(name).shown),
               " in a window of ", width_, " by ", height_);
}

std::vector<std::string> small_targets(ui::Toolkit& toolkit, float least_units) {
    std::vector<std::string> faults;
    const float least = least_units * toolkit.context().scale;
    for (const ui::Mark& mark : toolkit.marks().all())
        if (mark.touchable && (mark.area.width < least || mark.area.height < least))
            faults.push_back(mark.name + " is too small to touch: " + at(mark.area));
    return faults;
}

std::vector<std::string> cut_texts(ui::Toolkit& toolkit) {
    std::vector<std::string> faults;
    for (const ui::TextPiece& piece : toolkit.marks().texts()) {
        const Area& a = piece.area;
        const Area& b = piece.box;
        const float slack = 1.5F;
        const bool outside = a.x < b.x - slack || a.x + a.width > b.x + b.width + slack || a.y < b.y - slack ||
                             a.y + a.height > b.y + b.height + slack;
        if (outside) faults.push_back("\"" + piece.full + "\" " + at(a) + " does not fit its box " + at(b));
        // What is scrolled away above or below is fine; being cut at a side never is.
        const Area seen = ui::intersection(a, piece.clip);
        if (seen.height > 0 && (a.x < piece.clip.x - slack || a.x + a.width > piece.clip.x + piece.clip.width + slack))
            faults.push_back("\"" + piece.full + "\" " + at(a) + " is cut by its window " + at(piece.clip));
    }
    return faults;
}

std::vector<std::string> overlapping_texts(ui::Toolkit& toolkit) {
    std::vector<std::string> faults;
    const std::vector<ui::TextPiece>& texts = toolkit.marks().texts();
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const Area first = ui::intersection(texts[i].area, texts[i].clip);
        for (std::size_t j = i + 1; j < texts.size() && first.height > 0; ++j) {
            if (texts[i].layer != texts[j].layer) continue;
            const Area both = ui::intersection(first, ui::intersection(texts[j].area, texts[j].clip));
            if (both.width > 1.5F && both.height > 1.5F)
                faults.push_back("\"" + texts[i].full + "\" and \"" + texts[j].full + "\" overlap at " + at(both));
        }
    }
    return faults;
}

std::vector<std::string> repeated_marks(ui::Toolkit& toolkit) {
    std::vector<std::string> faults;
    std::set<std::string> seen;
    for (const ui::Mark& mark : toolkit.marks().all())
        if (!seen.insert(mark.name).second) faults.push_back(mark.name + " is there twice");
    return faults;
}

}  // namespace tapwright::tests
