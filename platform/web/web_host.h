// ui::Host in a browser's worker: the page is told, and asked, by messages.
#pragma once

#include <array>
#include <string>
#include <utility>
#include <vector>

#include "ui/frame/host.h"

namespace tapwright::web {

class WebHost : public ui::Host {
public:
    std::string time_of_day() override;
    void choose_file(ui::FilePurpose purpose, std::string_view suggested_name) override;
    void copy_text(std::string_view text) override;
    void wake_after(int milliseconds) override;
    bool prefers_night() override { return night; }
    float content_scale() override { return scale; }
    std::uint64_t make_picture(int width, int height, const std::uint8_t* rgba) override;
    void drop_picture(std::uint64_t picture) override;
    void publish_native_areas(const std::vector<ui::NativeArea>& areas) override;
    // Other scripts are drawn by the browser: browser_font.h.
    std::vector<std::string> font_files(ui::Face face) override;

    // What the page said.
    float scale = 1;
    bool night = false;
    std::array<std::string, 2> typefaces;  // regular, semibold

    // Files that need no choosing, for the program right after the frame.
    std::vector<std::pair<ui::FilePurpose, std::string>> chosen;

    double wake_at = -1;  // steady seconds; below 0 nobody asked
};

// "photo", "open_job": what the page calls it.
const char* word_of(ui::FilePurpose purpose);

}  // namespace tapwright::web
