// The platform's twin in memory: remembers what it was asked, so that tests can look. It draws nothing.
#pragma once

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "ui/frame/host.h"

namespace tapwright::ui {

class HeadlessHost : public Host {
public:
    std::string time_of_day() override { return time; }
    void choose_file(FilePurpose purpose, std::string_view suggested_name) override {
        chosen_for.emplace_back(purpose, std::string(suggested_name));
    }
    void copy_text(std::string_view text) override { clipboard = text; }
    void wake_after(int milliseconds) override {
        wake_requests += 1;
        next_wake_ms = next_wake_ms < 0 ? milliseconds : std::min(next_wake_ms, milliseconds);
    }
    bool prefers_night() override { return night; }
    float content_scale() override { return scale; }
    std::uint64_t make_picture(int, int, const std::uint8_t*) override { return ++pictures_made; }
    void drop_picture(std::uint64_t) override { pictures_dropped += 1; }
    void publish_native_areas(const std::vector<NativeArea>& areas) override { native_areas = areas; }
    std::vector<std::string> font_files(Face face) override {
        if (face == Face::regular) return {regular};
        if (face == Face::semibold) return {semibold};
        other_scripts_asked += 1;
        return other_scripts;
    }

    // What it answers.
    std::string time = "14:02";
    bool night = false;
    float scale = 1;
    std::string regular, semibold;           // bytes
    std::vector<std::string> other_scripts;  // bytes

    // What it was asked.
    std::vector<std::pair<FilePurpose, std::string>> chosen_for;
    std::string clipboard;
    int wake_requests = 0;
    int next_wake_ms = -1;  // the soonest since a test last set it to -1
    std::vector<NativeArea> native_areas;
    int other_scripts_asked = 0;
    std::uint64_t pictures_made = 0, pictures_dropped = 0;
};

}  // namespace tapwright::ui
