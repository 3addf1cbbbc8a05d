// ui::Host on a desktop: the clock, the clipboard, typefaces on disk.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "platform/desktop/colour_scheme.h"
#include "ui/frame/host.h"

struct GLFWwindow;

namespace tapwright::desktop {

class DesktopHost : public ui::Host {
public:
    explicit DesktopHost(float scale) : scale_(scale) {}

    void attach(GLFWwindow* window) { window_ = window; }
    void set_content_scale(float scale) { scale_ = scale; }

    std::string time_of_day() override;
    void choose_file(ui::FilePurpose purpose, std::string_view suggested_name) override;
    void copy_text(std::string_view text) override;
    void wake_after(int milliseconds) override;
    // GLFW 3.3 cannot tell; the desktop's portal can.
    bool prefers_night() override { return scheme_.prefers_dark(); }
    // Asks the portal once more, beside the drawing, and takes over its changes from then on: a portal may have come
    // only now.
    void ask_for_scheme();
    float content_scale() override { return scale_; }
    // Nothing to do: a desktop has its keyboard at hand.
    void publish_native_areas(const std::vector<ui::NativeArea>&) override {}
    std::vector<std::string> font_files(ui::Face face) override;
    std::uint64_t make_picture(int width, int height, const std::uint8_t* rgba) override;
    void drop_picture(std::uint64_t picture) override;

    // Requests waiting to be served by the window's loop.
    std::vector<std::pair<ui::FilePurpose, std::string>> wanted_files;
    double wake_at = -1;  // GLFW time; below 0 nobody asked

private:
    GLFWwindow* window_ = nullptr;
    float scale_ = 1;
    ColourScheme scheme_;
};

}  // namespace tapwright::desktop
