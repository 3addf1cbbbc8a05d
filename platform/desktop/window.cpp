#include "platform/desktop/window.h"

#include <GLFW/glfw3.h>
#include <imgui.h>
#include <imgui_impl_glfw.h>
#include <imgui_impl_opengl3.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <iostream>
#include <vector>

#include "core/words/words.h"
#include "platform/desktop/desktop_host.h"
#include "platform/desktop/file_chooser.h"
#include "platform/desktop/picture.h"
#include "platform/system/files.h"

namespace tapwright::desktop {
namespace {

constexpr int failed = 2;  // the process's exit status
constexpr int frames_to_settle = 3;
constexpr int least_width = 320, least_height = 480;  // units

using Clock = std::chrono::steady_clock;

double milliseconds_since(Clock::time_point start) {
    return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

// One window and all that belongs to it.
class Window {
public:
    explicit Window(const WindowOptions& options) : options_(options), started_(Clock::now()) {}
    ~Window() { close(); }
    Window(const Window&) = delete;
    Window& operator=(const Window&) = delete;

    bool open();
    int run();
    int make_picture();

private:
    void listen();
    void close();
    void draw_frame();
    void paint();
    void serve_host();
    void write_marks();
    void wait();
    void report() const;
    static Window& of(GLFWwindow* window) { return *static_cast<Window*>(glfwGetWindowUserPointer(window)); }

    const WindowOptions& options_;
    Clock::time_point started_;
    GLFWwindow* window_ = nullptr;
    std::unique_ptr<DesktopHost> host_;
    std::unique_ptr<ui::Toolkit> toolkit_;
    std::unique_ptr<ui::Program> program_;
    FileChooser chooser_;
    int status_ = 0;  // of the process, when the window is closed
    int frames_left_ = frames_to_settle;
    bool something_happened_ = false;
    std::string marks_written_, title_;
    std::vector<std::string> dropped_;
    int width_ = 0, height_ = 0;  // pixels
    std::vector<double> frame_ms_;
    double first_frame_ms_ = 0, longest_settle_ms_ = 0;
};

bool Window::open() {
    glfwSetErrorCallback([](int, const char* text) { std::cerr << "tapwright: " << text << "\n"; });
    if (!glfwInit()) {
        std::cerr << "No display was found, so no window can be opened: start this on a desktop, or under Xvfb.\n";
        return false;
    }
    float scale = options_.scale;
    if (scale <= 0) {
        float x = 1, y = 1;
        if (GLFWmonitor* monitor = glfwGetPrimaryMonitor()) glfwGetMonitorContentScale(monitor, &x, &y);
        scale = std::max(1.0F, x);
    }
    width_ = static_cast<int>(std::lround(static_cast<float>(options_.width) * scale));
    height_ = static_cast<int>(std::lround(static_cast<float>(options_.height) * scale));
    glfwWindowHint(GLFW_CONTEXT_VERSION_MAJOR, 3);
    glfwWindowHint(GLFW_CONTEXT_VERSION_MINOR, 2);
    glfwWindowHint(GLFW_OPENGL_PROFILE, GLFW_OPENGL_CORE_PROFILE);
    glfwWindowHint(GLFW_OPENGL_FORWARD_COMPAT, GLFW_TRUE);
    glfwWindowHint(GLFW_VISIBLE, options_.picture_file.empty() ? GLFW_TRUE : GLFW_FALSE);
    // Under these names a desktop finds the icon and groups the windows, as platform/package/tapwright.desktop.in says.
    glfwWindowHintString(GLFW_X11_CLASS_NAME, "tapwright");
    glfwWindowHintString(GLFW_X11_INSTANCE_NAME, "tapwright");
#ifdef GLFW_WAYLAND_APP_ID
    glfwWindowHintString(GLFW_WAYLAND_APP_ID, "tapwright");
#endif
    window_ = glfwCreateWindow(width_, height_, "Tapwright", nullptr, nullptr);
    if (!window_) {
        std::cerr << "The window needs OpenGL 3.2, which this display does not offer: try software OpenGL.\n";
        return false;
    }
    glfwSetWindowSizeLimits(window_, static_cast<int>(least_width * scale), static_cast<int>(least_height * scale),
                            GLFW_DONT_CARE, GLFW_DONT_CARE);
    glfwMakeContextCurrent(window_);
    glfwSwapInterval(1);
    host_ = std::make_unique<DesktopHost>(scale);
    host_->attach(window_);
    host_->ask_for_scheme();
    toolkit_ = std::make_unique<ui::Toolkit>(*host_);
    toolkit_->preferences = options_.preferences;
    listen();
    ImGui_ImplGlfw_InitForOpenGL(window_, false);
    // The backend asks GLFW for the pointer unless it believes that it hears of every move; pointers go through our own
    // gesture layer instead.
    ImGui_ImplGlfw_CursorEnterCallback(window_, GLFW_TRUE);
    ImGui_ImplOpenGL3_Init("#version 150");
    program_ = options_.make_program(*host_);
    return true;
}

// Every callback says that something happened; pointers go to the gesture layer, keys to Dear ImGui.
void Window::listen() {
    using ui::Gesture;
    glfwSetWindowUserPointer(window_, this);
    glfwSetCursorPosCallback(window_, [](GLFWwindow* window, double x, double y) {
        of(window).something_happened_ = true;
        of(window).toolkit_->gesture().moved(0, static_cast<float>(x), static_cast<float>(y), glfwGetTime(),
                                             Gesture::Pointer::mouse);
    });
    glfwSetMouseButtonCallback(window_, [](GLFWwindow* window, int button, int action, int) {
        of(window).something_happened_ = true;
        if (button != GLFW_MOUSE_BUTTON_LEFT) return;
        double x = 0, y = 0;
        glfwGetCursorPos(window, &x, &y);
        if (action == GLFW_PRESS)
            of(window).toolkit_->gesture().pressed(0, static_cast<float>(x), static_cast<float>(y), glfwGetTime(),
                                                   Gesture::Pointer::mouse);
        else
            of(window).toolkit_->gesture().released(0, glfwGetTime());
    });
    glfwSetCursorEnterCallback(window_, [](GLFWwindow* window, int entered) {
        of(window).something_happened_ = true;
        if (!entered) of(window).toolkit_->gesture().left_window();
    });
    glfwSetScrollCallback(window_, [](GLFWwindow* window, double x, double y) {
        of(window).something_happened_ = true;
        ImGui::GetIO().AddMouseWheelEvent(static_cast<float>(x), static_cast<float>(y));
    });
    glfwSetKeyCallback(window_, [](GLFWwindow* window, int key, int code, int action, int mods) {
        of(window).something_happened_ = true;
        ImGui_ImplGlfw_KeyCallback(window, key, code, action, mods);
    });
    glfwSetCharCallback(window_, [](GLFWwindow* window, unsigned int character) {
        of(window).something_happened_ = true;
        ImGui_ImplGlfw_CharCallback(window, character);
    });
    glfwSetWindowFocusCallback(window_, [](GLFWwindow* window, int focused) {
        of(window).something_happened_ = true;
        if (!focused) of(window).toolkit_->gesture().cancelled();
        if (focused) of(window).host_->ask_for_scheme();
        ImGui_ImplGlfw_WindowFocusCallback(window, focused);
    });
    glfwSetWindowRefreshCallback(window_, [](GLFWwindow* window) { of(window).something_happened_ = true; });
    glfwSetFramebufferSizeCallback(window_, [](GLFWwindow* window, int width, int height) {
        of(window).something_happened_ = true;
        of(window).width_ = width;
        of(window).height_ = height;
    });
    glfwSetWindowContentScaleCallback(window_, [](GLFWwindow* window, float x, float) {
        of(window).something_happened_ = true;
        if (of(window).options_.scale <= 0) of(window).host_->set_content_scale(std::max(1.0F, x));
    });
    glfwSetDropCallback(window_, [](GLFWwindow* window, int count, const char** paths) {
        of(window).something_happened_ = true;
        of(window).dropped_.assign(paths, paths + count);
    });
}

void Window::draw_frame() {
    const Clock::time_point start = Clock::now();
    ImGui_ImplOpenGL3_NewFrame();
    ImGui_ImplGlfw_NewFrame();
    toolkit_->begin(glfwGetTime(), static_cast<float>(width_), static_cast<float>(height_));
    program_->draw(toolkit_->context());
    const std::optional<std::string> chosen = chooser_.draw(toolkit_->context());
    toolkit_->end();
    frame_ms_.push_back(milliseconds_since(start));
    const Clock::time_point drawn = Clock::now();
    toolkit_->settle(*program_);
    longest_settle_ms_ = std::max(longest_settle_ms_, milliseconds_since(drawn));
    if (chosen) program_->file_chosen(chooser_.purpose(), *chosen);
    if (chosen) something_happened_ = true;
}

void Window::paint() {
    const ui::Colour ground = toolkit_->theme().page;
    glViewport(0, 0, width_, height_);
    glClearColor(static_cast<float>(ground.red) / 255, static_cast<float>(ground.green) / 255,
                 static_cast<float>(ground.blue) / 255, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    ImGui_ImplOpenGL3_RenderDrawData(ImGui::GetDrawData());
}

// What the program asked its host for, and what came from outside.
void Window::serve_host() {
    for (const auto& [purpose, name] : host_->wanted_files) chooser_.ask(purpose, name);
    host_->wanted_files.clear();
    if (!dropped_.empty()) program_->files_dropped(dropped_);
    dropped_.clear();
    const std::string title = harmless(program_->window_title(), Breaks::shown);
    if (title != title_) glfwSetWindowTitle(window_, title.c_str());
    title_ = title;
}

void Window::write_marks() {
    if (options_.marks_file.empty()) return;
    const std::string marks = toolkit_->marks().json();
    if (marks == marks_written_) return;
    marks_written_ = marks;
    // Readers never see half a file, and a job file is never replaced.
    const Result<void> written = write_file(options_.marks_file, marks);
    if (written) return;
    std::cerr << "tapwright: " << Words().on_one_line().text(written.refusal()) << "\n";
    status_ = failed;
    glfwSetWindowShouldClose(window_, GLFW_TRUE);
}

// Sleeps until there is a reason to draw.
void Window::wait() {
    something_happened_ = false;
    const double next = toolkit_->next_frame_in();
    if (frames_left_ > 0 || next == 0) {
        glfwPollEvents();
    } else {
        write_marks();
        double until = next < 0 ? -1 : glfwGetTime() + next;
        if (host_->wake_at >= 0) until = until < 0 ? host_->wake_at : std::min(until, host_->wake_at);
        const double end = options_.close_after_seconds;
        if (end > 0) until = until < 0 ? end : std::min(until, end);
        if (until < 0)
            glfwWaitEvents();
        else if (until > glfwGetTime())
            glfwWaitEventsTimeout(until - glfwGetTime());
        const bool due =
            (next >= 0 && glfwGetTime() >= until) || (host_->wake_at >= 0 && glfwGetTime() >= host_->wake_at);
        if (due) frames_left_ = std::max(frames_left_, 1);
        if (host_->wake_at >= 0 && glfwGetTime() >= host_->wake_at) host_->wake_at = -1;
    }
    if (something_happened_) frames_left_ = frames_to_settle;
    if (options_.close_after_seconds > 0 && glfwGetTime() >= options_.close_after_seconds)
        glfwSetWindowShouldClose(window_, GLFW_TRUE);
}

int Window::run() {
    while (!glfwWindowShouldClose(window_)) {
        serve_host();
        if (frames_left_ > 0 || toolkit_->next_frame_in() == 0) {
            draw_frame();
            paint();
            glfwSwapBuffers(window_);
            if (frame_ms_.size() == 1) first_frame_ms_ = milliseconds_since(started_);
            // A touch may be spread over frames, and what it opens knows its size a frame or two later: they count from
            // there.
            frames_left_ = toolkit_->next_frame_in() == 0 ? frames_to_settle : std::max(0, frames_left_ - 1);
        }
        wait();
    }
    if (options_.figures) report();
    return status_;
}

int Window::make_picture() {
    // Sheets and wrapped headers know their size after a frame or two.
    for (int i = 0; i < 6; ++i) {
        serve_host();
        draw_frame();
        paint();
    }
    const Result<void> written = write_picture(options_.picture_file, width_, height_, [this] { paint(); });
    write_marks();
    if (written) return status_;
    std::cerr << "tapwright: " << Words().on_one_line().text(written.refusal()) << "\n";
    return failed;
}

void Window::report() const {
    std::vector<double> times = frame_ms_;
    std::sort(times.begin(), times.end());
    if (times.empty()) return;
    std::fprintf(
        stderr,
        "first frame %.0f ms, frames %zu, frame time median %.2f ms, longest %.2f ms, a change kept within %.1f "
        "ms\n",
        first_frame_ms_, times.size(), times[times.size() / 2], times.back(), longest_settle_ms_);
}

void Window::close() {
    program_.reset();
    if (toolkit_) {
        ImGui_ImplOpenGL3_Shutdown();
        ImGui_ImplGlfw_Shutdown();
    }
    toolkit_.reset();
    host_.reset();  // what it waits for may still wake the window
    if (window_) glfwDestroyWindow(window_);
    window_ = nullptr;
    glfwTerminate();
}

}  // namespace

int run_window(const WindowOptions& options) {
    Window window(options);
    if (!window.open()) return failed;
    return options.picture_file.empty() ? window.run() : window.make_picture();
}

}  // namespace tapwright::desktop
