#include "platform/web/web_ports.h"

#include "platform/system/stamps.h"
#include "platform/web/store/vfs.h"
#include "ui/screens/common/parts.h"

namespace tapwright::web {

WebPorts::WebPorts() {
    register_vfs(files_, true);
}

std::unique_ptr<ui::App> WebPorts::make_app(ui::Host& host) {
    auto app = std::make_unique<ui::App>(host, ui::make_parts(shared_));
    app_ = app.get();
    jobs_.set_hooks({.show = [this](Session* session) { show(session); },
                     .remark = [this](const Message& sentence) { say(ui::Tone::warning, sentence); }});
    return app;
}

void WebPorts::show(Session* session) {
    if (!session) cancel_photos();
    shared_.zone = shared_.last_zone = shared_.room = shared_.point = shared_.feed = Id();
    shared_.drafts.clear();
    app_->set_session(session);
}

Stamp WebPorts::stamp() {
    return make_stamp();
}

void WebPorts::keep_preferences(const ui::Preferences& preferences) {
    using Appearance = ui::Preferences::Appearance;
    const char* theme = preferences.appearance == Appearance::day     ? "day"
                        : preferences.appearance == Appearance::night ? "night"
                                                                      : "";
    jobs_.set_look(theme, static_cast<double>(preferences.text_scale), std::string(preferences.language->code));
}

std::vector<ui::RecentJob> WebPorts::recent_jobs() const {
    std::vector<ui::RecentJob> recent;
    for (JobStore::Stored& job : jobs_.stored())
        recent.push_back({std::move(job.file), std::move(job.name), {}, job.is_open});
    return recent;
}

void WebPorts::create_job(const ui::NewJob& job, Done<void> done) {
    jobs_.create({job.name, job.line_v, job.person}, make_stamp(), done);
}

void WebPorts::import_job(const std::string& file, Done<void> done) {
    jobs_.import(file, make_stamp(), done);
}

void WebPorts::make_files(ui::HandoverFile, Done<std::vector<ui::MadeFile>> done) {
    done(Refusal{Message("No job is open. Open one, then make its sheet.")});
}

bool WebPorts::can(ui::FileUse) const {
    return false;
}

void WebPorts::use_file(ui::FileUse, const std::string&, Done<void> done) {
    done({});
}

void WebPorts::take_photos(const Id&, const std::vector<std::string>&) {}

Result<ui::PhotoPixels> WebPorts::photo_pixels(const std::string&, int) {
    return Refusal{Message("No job is open.")};
}

std::string WebPorts::local_time(const std::string& time) const {
    return in_local_time(time);
}

}  // namespace tapwright::web
