#include "platform/desktop/desktop_host.h"

#include <GLFW/glfw3.h>

#include <ctime>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tapwright::desktop {
namespace {

// Returns: the file's bytes, empty when it cannot be read.
std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    if (!file) return {};
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

// Where systems keep fonts; a folder beside the program comes first.
std::vector<std::string> font_folders() {
    return {"assets/fonts/",
            "/usr/share/fonts/opentype/inter/",
            "/usr/share/fonts/truetype/inter/",
            "/usr/share/fonts/inter/",
            "/usr/share/fonts/truetype/noto/",
            "/usr/share/fonts/opentype/noto/",
            "/usr/local/share/fonts/",
            "/Library/Fonts/"};
}

std::string first_found(const std::vector<std::string>& names) {
    for (const std::string& name : names)
        for (const std::string& folder : font_folders())
            if (std::string bytes = bytes_of(folder + name); !bytes.empty()) return bytes;
    return {};
}

}  // namespace

std::string DesktopHost::time_of_day() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[8];
    return std::string(text, std::strftime(text, sizeof text, "%H:%M", &local));
}

void DesktopHost::choose_file(ui::FilePurpose purpose, std::string_view suggested_name) {
    wanted_files.emplace_back(purpose, std::string(suggested_name));
    wake_after(0);
}

void DesktopHost::copy_text(std::string_view text) {
    if (window_) glfwSetClipboardString(window_, std::string(text).c_str());
}

void DesktopHost::wake_after(int milliseconds) {
    const double at = glfwGetTime() + milliseconds / 1000.0;
    if (wake_at < 0 || at < wake_at) wake_at = at;
}

void DesktopHost::ask_for_scheme() {
    scheme_.ask([] { glfwPostEmptyEvent(); });
    scheme_.follow([] { glfwPostEmptyEvent(); });
}

std::uint64_t DesktopHost::make_picture(int width, int height, const std::uint8_t* rgba) {
    GLuint name = 0;
    glGenTextures(1, &name);
    glBindTexture(GL_TEXTURE_2D, name);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA, width, height, 0, GL_RGBA, GL_UNSIGNED_BYTE, rgba);
    return name;
}

void DesktopHost::drop_picture(std::uint64_t picture) {
    const auto name = static_cast<GLuint>(picture);
    glDeleteTextures(1, &name);
}

std::vector<std::string> DesktopHost::font_files(ui::Face face) {
    switch (face) {
        case ui::Face::regular:
            return {first_found({"Inter-Regular.otf", "Inter-Regular.ttf", "NotoSans-Regular.ttf"})};
        case ui::Face::semibold:
            return {first_found({"Inter-SemiBold.otf", "Inter-SemiBold.ttf", "NotoSans-Bold.ttf"})};
        case ui::Face::other_scripts:
            break;
    }
    std::vector<std::string> files;
    for (const char* name :
         {"NotoSans-Regular.ttf", "NotoSansHebrew-Regular.ttf", "NotoSansArabic-Regular.ttf",
          "NotoSansDevanagari-Regular.ttf", "NotoSansThai-Regular.ttf", "NotoSansCJK-Regular.ttc",
          "NotoSansSymbols-Regular.ttf", "NotoEmoji-Regular.ttf", "NotoSansSymbols2-Regular.ttf", "DejaVuSans.ttf"})
        files.push_back(first_found({name}));
    return files;
}

}  // namespace tapwright::desktop
