// The program in a page's worker: frames, input, and what the page wants to know. One there is, and it lives as long as
// the worker.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "platform/web/painter.h"
#include "platform/web/web_host.h"
#include "platform/web/web_ports.h"

namespace tapwright::web {

class WebApp {
public:
    // Before start().
    WebHost& host() { return host_; }
    WebPorts& ports() { return ports_; }

    // Makes the WebGL context and the screens; the typefaces are in host(). Then opens what was open last and tells the
    // page "started", or "refused" with a sentence. `language`: the browser's, BCP 47, for who has chosen none.
    // Returns: false where there is no WebGL.
    bool start(float width, float height, const std::string& language);

    // Draws and settles one frame. Returns: seconds until the next is needed, 0 at once, negative none.
    double frame();

    void resize(float width, float height);
    // Something came in: frames are wanted.
    ui::Toolkit& touched();
    ui::App& app() { return *app_; }
    // After a lost WebGL context was given back. Returns: whether it can be painted in.
    bool restored();

    // What --marks writes.
    std::string marks() { return toolkit_->marks().json(); }
    // Of the last frame and of all: a JSON object.
    std::string figures() const;

private:
    double next_frame_in() const;
    void tell_saved(double seconds);
    void opened(const Result<void>& started);

    WebHost host_;
    WebPorts ports_;
    Painter painter_;
    std::unique_ptr<ui::Toolkit> toolkit_;
    std::unique_ptr<ui::App> app_;
    float width_ = 0, height_ = 0;  // pixels
    int frames_left_ = 0;
    std::string title_;
    const Session* session_ = nullptr;  // of the frame before, and its revision; never looked into
    std::uint64_t revision_ = 0;

    struct Figures {
        double ui_ms = 0, paint_ms = 0, settle_ms = 0, longest_settle_ms = 0;
        int frames = 0, vertices = 0;
    } figures_;
};

WebApp& the_app();

}  // namespace tapwright::web
