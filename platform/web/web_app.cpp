#include "platform/web/web_app.h"

#include <imgui.h>

#include <algorithm>
#include <utility>

#include "core/job/json.h"
#include "core/words/words.h"
#include "platform/web/browser_font.h"
#include "platform/web/page.h"

namespace tapwright::web {
namespace {

constexpr int frames_to_settle = 3;

ui::Preferences preferences_of(const Settings& settings, const std::string& browser_language) {
    ui::Preferences preferences;
    using Appearance = ui::Preferences::Appearance;
    preferences.appearance = settings.theme == "day"     ? Appearance::day
                             : settings.theme == "night" ? Appearance::night
                                                         : Appearance::system;
    preferences.text_scale = static_cast<float>(settings.text_scale);
    preferences.language = &language_for(settings.language.empty() ? browser_language : settings.language);
    return preferences;
}

}  // namespace

WebApp& the_app() {
    static WebApp& app = *new WebApp;  // never destroyed: the worker ends with its page
    return app;
}

bool WebApp::start(float width, float height, const std::string& language) {
    toolkit_ = std::make_unique<ui::Toolkit>(host_);
    ImGui::GetIO().BackendPlatformName = "tapwright_worker";
    ImGui::GetPlatformIO().Platform_SetClipboardTextFn = [](ImGuiContext*, const char* text) {
        the_app().host().copy_text(text);
    };
    add_browser_fonts();
    if (!painter_.start()) return false;
    resize(width, height);
    app_ = ports_.make_app(host_);
    ports_.jobs().start([this, language](const Result<void>& started) {
        toolkit_->preferences = preferences_of(ports_.jobs().settings(), language);
        ports_.set_language(*toolkit_->preferences.language);
        opened(started);
    });
    return true;
}

void WebApp::opened(const Result<void>& started) {
    if (!started) return tell_page("refused", Words(*toolkit_->preferences.language).text(started.refusal().message));
    if (!ports_.folder().lasts())
        app_->say(
            ui::Tone::warning,
            Message("Nothing will last: this browser keeps no files for this page, as in a private window. Export "
                    "the job before you close the page."));
    tell_page("started");
}

void WebApp::resize(float width, float height) {
    width_ = width;
    height_ = height;
    frames_left_ = frames_to_settle;
}

ui::Toolkit& WebApp::touched() {
    frames_left_ = frames_to_settle;
    return *toolkit_;
}

double WebApp::frame() {
    const double start = steady_seconds();
    if (host_.wake_at >= 0 && start >= host_.wake_at) host_.wake_at = -1;
    toolkit_->begin(start, width_, height_);
    app_->draw(toolkit_->context());
    toolkit_->end();
    const double drawn = steady_seconds();
    const ui::Colour page = toolkit_->theme().page;
    constexpr float whole = 255;
    painter_.paint(*ImGui::GetDrawData(), {static_cast<float>(page.red) / whole, static_cast<float>(page.green) / whole,
                                           static_cast<float>(page.blue) / whole});
    const double painted = steady_seconds();
    toolkit_->settle(*app_);
    for (const auto& [purpose, name] : std::exchange(host_.chosen, {})) touched(), app_->file_chosen(purpose, name);
    tell_saved(steady_seconds() - painted);
    figures_.ui_ms = (drawn - start) * 1000;
    figures_.paint_ms = (painted - drawn) * 1000;
    figures_.settle_ms = (steady_seconds() - painted) * 1000;
    figures_.longest_settle_ms = std::max(figures_.longest_settle_ms, figures_.settle_ms);
    figures_.vertices = ImGui::GetDrawData()->TotalVtxCount;
    ++figures_.frames;
    // A touch may be spread over frames, and what it opens knows its size a frame or two later: they count from there.
    frames_left_ = toolkit_->next_frame_in() == 0 ? frames_to_settle : std::max(0, frames_left_ - 1);
    if (std::string title = app_->window_title(); title != title_) tell_page("title", title_ = std::move(title));
    return next_frame_in();
}

// The page measures how long it took until a change was kept.
void WebApp::tell_saved(double seconds) {
    const Session* const session = ports_.jobs().session();
    const std::uint64_t revision = session ? session->revision() : 0;
    const bool is_same_job = std::exchange(session_, session) == session;
    if (std::exchange(revision_, revision) == revision || !is_same_job || !session) return;
    tell_page("saved", Map{{"ms", seconds * 1000}, {"changes", static_cast<double>(session->batch_count())}});
}

double WebApp::next_frame_in() const {
    const double next = frames_left_ > 0 ? 0 : toolkit_->next_frame_in();
    if (host_.wake_at < 0) return next;
    const double wake = std::max(0.0, host_.wake_at - steady_seconds());
    return next < 0 ? wake : std::min(next, wake);
}

bool WebApp::restored() {
    touched();
    ports_.shared().shelf.forget();
    return painter_.restore();
}

std::string WebApp::figures() const {
    const Session* session = ports_.jobs().session();
    return compact_json(Map{{"frames", static_cast<double>(figures_.frames)},
                            {"ui_ms", figures_.ui_ms},
                            {"paint_ms", figures_.paint_ms},
                            {"settle_ms", figures_.settle_ms},
                            {"longest_settle_ms", figures_.longest_settle_ms},
                            {"vertices", static_cast<double>(figures_.vertices)},
                            {"batches", session ? static_cast<double>(session->batch_count()) : 0.0}});
}

}  // namespace tapwright::web
