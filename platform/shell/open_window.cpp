#include "platform/shell/open_window.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>

#include "core/words/words.h"
#include "platform/desktop/window.h"
#include "platform/handover/photo_files.h"
#include "platform/jobs/jobs.h"
#include "platform/photos/photos.h"
#include "platform/shell/made_files.h"
#include "platform/shell/photo_work.h"
#include "platform/system/opener.h"
#include "platform/system/stamps.h"
#include "ui/screens/common/parts.h"

namespace tapwright::desktop {
namespace {

// The ports of the window's screens to this machine. Outlives the app.
class Desk : public ui::Ports {
public:
    Jobs& jobs() { return jobs_; }
    // Of what is made of the job.
    void set_language(const Language& language) { language_ = &language; }
    std::unique_ptr<ui::App> make_app(ui::Host& host, ui::PlaceId place) {
        auto app = std::make_unique<ui::App>(host, ui::make_parts(shared_));
        app_ = app.get();
        app_->show(place);
        jobs_.set_hooks({.show = [this](Session* session) { show(session); },
                         .remark = [this](const Message& sentence) { say(ui::Tone::note, sentence); }});
        return app;
    }

    Author author() const override { return jobs_.author(); }
    Stamp stamp() override { return make_stamp(); }
    void set_visit(const Id& visit) override { jobs_.set_visit(visit); }
    void set_person(const std::string& person) override { jobs_.set_person(person); }
    void keep_preferences(const ui::Preferences& preferences) override {
        using Appearance = ui::Preferences::Appearance;
        const char* theme = preferences.appearance == Appearance::day     ? "day"
                            : preferences.appearance == Appearance::night ? "night"
                                                                          : "";
        language_ = preferences.language;
        jobs_.set_look(theme, static_cast<double>(preferences.text_scale), std::string(language_->code));
    }

    std::string usual_line_v() const override { return jobs_.settings().line_v; }
    const Job* library() const override { return &jobs_.library(); }
    void import_types(const std::string& file, Done<int> done) override { done(jobs_.import_types(file)); }
    void export_types(const std::string& file, Done<void> done) override { done(jobs_.export_types(file)); }

    std::vector<ui::RecentJob> recent_jobs() const override {
        std::vector<ui::RecentJob> recent;
        for (Jobs::Recent& job : jobs_.recent())
            recent.push_back({std::move(job.path), std::move(job.name), std::move(job.folder), job.is_open});
        return recent;
    }
    void create_job(const ui::NewJob& job, Done<void> done) override {
        done(jobs_.create({job.name, job.line_v, job.person}, make_stamp()));
    }
    void open_job(const std::string& file, Done<void> done) override { done(jobs_.open(file)); }
    void import_job(const std::string& file, Done<void> done) override { done(jobs_.import(file, make_stamp())); }

    bool makes_files() const override { return true; }
    void make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) override;
    bool can(ui::FileUse use) const override { return use != ui::FileUse::share; }
    void use_files(ui::FileUse use, const std::vector<std::string>& files, Done<void> done) override;

    void take_photos(const Id& about, const std::vector<std::string>& files) override { photos_.begin(about, files); }
    ui::PhotoWork photo_work() const override {
        const PhotoWorker::Progress progress = photos_.progress();
        return {progress.done, progress.all};
    }
    void cancel_photos() override { photos_.cancel(); }
    bool keep_photos() override;
    Result<ui::PhotoPixels> photo_pixels(const std::string& sha256, int longest) override;

    std::string local_time(const std::string& time) const override { return in_local_time(time); }
    void say(ui::Tone tone, const Message& sentence) override {
        if (app_) app_->say(tone, sentence);
    }

private:
    void show(Session* session) {
        if (!session) photos_.cancel();
        shared_.zone = shared_.last_zone = shared_.room = shared_.point = shared_.feed = Id();
        shared_.drafts.clear();
        app_->set_session(session);
    }
    Jobs jobs_;
    ui::Shared shared_{*this};
    ui::App* app_ = nullptr;
    PhotoWorker photos_;
    const Language* language_ = &english();
};

void Desk::make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) {
    const Result<std::vector<std::string>> paths = desktop::make_files(jobs_, which, Words(*language_));
    if (!paths) return done(paths.refusal());
    std::vector<ui::MadeFile> made;
    for (const std::string& path : *paths) {
        const std::filesystem::path file(path);
        made.push_back({path, file.filename().string(), file.parent_path().string()});
    }
    done(std::move(made));
}

void Desk::use_files(ui::FileUse use, const std::vector<std::string>& files, Done<void> done) {
    if (use == ui::FileUse::share)
        return done(Refusal{Message("A desktop has no sheet to share with. Show the folder, and send it from there.")});
    // What is made together lies together.
    done(use == ui::FileUse::open ? open_with_desktop(files.front()) : open_folder_of(files.front()));
}

bool Desk::keep_photos() {
    for (const Message& trouble : opener_troubles()) say(ui::Tone::warning, trouble);
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

Result<ui::PhotoPixels> Desk::photo_pixels(const std::string& sha256, int longest) {
    if (!jobs_.session()) return Refusal{Message("No job is open.")};
    const std::optional<Digest> digest = digest_from(sha256);
    if (!digest) return Refusal{Message("This photo's record names no picture.")};
    TAPWRIGHT_TAKE(blob, jobs_.session()->get_blob(*digest));
    Result<photos::Thumbnail> small = photos::thumbnail(blob.copy.empty() ? blob.original : blob.copy, longest);
    if (!small) return small.refusal();
    return ui::PhotoPixels{small->width, small->height, std::move(small->rgba)};
}

}  // namespace

Result<int> open_window(const WindowCall& call) {
    constexpr std::array names = {"survey", "rooms", "lines", "readings", "snags", "handover"};
    const auto found = std::find(names.begin(), names.end(), call.place);
    if (!call.place.empty() && found == names.end()) {
        Series places{{}, Series::Last::with_or};
        for (const char* name : names) places.items.push_back(code(name));
        return Refusal{Message("There is no place {given}. Write {places} behind {option}.",
                               {{"given", code(call.place)}, {"places", places}, {"option", code("--place")}})};
    }
    const auto place = call.place.empty() ? ui::PlaceId::rooms : static_cast<ui::PlaceId>(found - names.begin());
    Desk desk;
    if (!call.file.empty()) TAPWRIGHT_PASS(desk.jobs().open(call.file));
    WindowOptions options;
    options.width = call.width;
    options.height = call.height;
    options.scale = call.scale;
    options.marks_file = call.marks;
    options.picture_file = call.picture;
    options.close_after_seconds = call.figures;
    options.figures = call.figures > 0;
    const std::string theme = call.theme.empty() ? desk.jobs().settings().theme : call.theme;
    using Appearance = ui::Preferences::Appearance;
    options.preferences.appearance = theme == "day"     ? Appearance::day
                                     : theme == "night" ? Appearance::night
                                                        : Appearance::system;
    const char* language = std::getenv("TAPWRIGHT_LANGUAGE");
    options.preferences.language = &language_for(language ? language : desk.jobs().settings().language);
    desk.set_language(*options.preferences.language);
    options.preferences.text_scale = static_cast<float>(desk.jobs().settings().text_scale);
    options.make_program = [&](ui::Host& host) { return desk.make_app(host, place); };
    return run_window(options);
}

}  // namespace tapwright::desktop
