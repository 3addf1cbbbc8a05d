#include "ui/frame/fonts.h"

#include <imgui.h>
#include <imgui_internal.h>

#include <cmath>
#include <utility>

namespace tapwright::ui {
namespace {

constexpr float ascent_to_descent = 1.21F;

}  // namespace

ImFont* Fonts::add(const std::string& bytes, ImFont* into) {
    ImFontConfig config;
    config.FontDataOwnedByAtlas = false;
    config.OversampleH = 2;
    config.MergeMode = into != nullptr;
    config.DstFont = into;
    // Dear ImGui only reads; its parameter is not const.
    void* data = const_cast<char*>(bytes.data());
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    // Its versions up to 1.92.3 prepare the font that was added last, whatever DstFont says, and later ones insist that
    // both are the same: for the moment the one that is merged into stands last.
    const int place = into ? atlas.Fonts.find_index(into) : -1;
    if (place >= 0) std::swap(atlas.Fonts[place], atlas.Fonts.back());
    ImFont* const added = atlas.AddFontFromMemoryTTF(data, static_cast<int>(bytes.size()), 0, &config);
    if (place >= 0) std::swap(atlas.Fonts[place], atlas.Fonts.back());
    return added;
}

void Fonts::load(Host& host) {
    bytes_.reserve(32);  // the atlas keeps pointers into the strings
    ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
    for (auto [face, slot] : {std::pair{Face::regular, &regular_}, std::pair{Face::semibold, &semibold_}}) {
        std::vector<std::string> files = host.font_files(face);
        if (files.empty() || files.front().empty()) continue;
        bytes_.push_back(std::move(files.front()));
        *slot = add(bytes_.back(), nullptr);
    }
    if (!regular_) regular_ = atlas.AddFontDefault();
    if (!semibold_) semibold_ = regular_;
}

ImFont* Fonts::font(TextSize size) const {
    return is_semibold(size) ? semibold_ : regular_;
}

float Fonts::pixels(TextSize size, float scale) {
    return std::floor(text_units(size) * ascent_to_descent * scale + 0.5F);
}

void Fonts::notice(std::string_view text) {
    if (missing_ || asked_) return;
    const char* at = text.data();
    const char* end = at + text.size();
    while (at < end) {
        if (static_cast<unsigned char>(*at) < 0x80) {
            ++at;
            continue;
        }
        unsigned int code_point = 0;
        const int length = ImTextCharFromUtf8(&code_point, at, end);
        if (length <= 0) return;
        at += length;
        if (!regular_->IsGlyphInFont(static_cast<ImWchar>(code_point))) {
            missing_ = true;
            return;
        }
    }
}

bool Fonts::load_missing(Host& host) {
    if (!missing_ || asked_) return false;
    asked_ = true;
    std::vector<std::string> files = host.font_files(Face::other_scripts);
    bool added = false;
    for (std::string& file : files) {
        if (file.empty() || bytes_.size() == bytes_.capacity()) continue;
        bytes_.push_back(std::move(file));
        added |= add(bytes_.back(), regular_) != nullptr;
        if (semibold_ != regular_) add(bytes_.back(), semibold_);
    }
    return added;
}

}  // namespace tapwright::ui
