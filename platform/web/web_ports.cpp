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
    language_ = preferences.language;
    jobs_.set_look(theme, static_cast<double>(preferences.text_scale), std::string(preferences.language->code));
}

std::vector<ui::RecentJob> WebPorts::recent_jobs() const {
    std::vector<ui::RecentJob> recent;
    for (JobStore::Stored& job : jobs_.stored())
        recent.push_back({std::move(job.file), std::move(job.name), {}, job.is_open, job.not_given_out});
    return recent;
}

void WebPorts::create_job(const ui::NewJob& job, Done<void> done) {
    jobs_.create({job.name, job.line_v, job.person}, make_stamp(), done);
}

void WebPorts::import_job(const std::string& file, Done<void> done) {
    jobs_.import(file, make_stamp(), done);
}

void WebPorts::make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) {
    done(made_.make(which, Words(*language_)));
}

bool WebPorts::can(ui::FileUse use) const {
    return use == ui::FileUse::share ? can_share_ : use != ui::FileUse::show_folder;
}

bool WebPorts::keep_photos() {
    std::vector<ReadyPhoto> all = photos_.take_ready();
    for (ReadyPhoto& ready : all) {
        if (!jobs_.session()) break;
        const Result<Message> kept = keep_ready_photo(*jobs_.session(), std::move(ready), author(), make_stamp());
        if (!kept)
            say(ui::Tone::stop, kept.refusal().message);
        else if (!kept->empty())
            say(ui::Tone::note, *kept);
    }
    return !all.empty();
}

std::string WebPorts::local_time(const std::string& time) const {
    return in_local_time(time);
}

}  // namespace tapwright::web
