#include "platform/shell/open_window.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>

#include "core/exchange/job_json.h"
#include "core/job/field_text.h"
#include "core/words/words.h"
#include "platform/desktop/window.h"
#include "platform/handover/handover.h"
#include "platform/handover/photo_files.h"
#include "platform/photos/photos.h"
#include "platform/shell/photo_work.h"
#include "platform/system/files.h"
#include "platform/system/settings.h"
#include "platform/system/stamps.h"
#include "ui/screens/common/parts.h"

namespace tapwright::desktop {
namespace {

constexpr std::size_t most_json_bytes = std::size_t{256} << 20;
constexpr std::size_t most_recent = 12;

// The job in hand and what belongs to the person. Outlives the app.
class Desk {
public:
    Desk() {
        Result<Settings> loaded = load_settings();
        if (loaded) settings_ = std::move(*loaded);
        can_save_ = loaded.ok();
        fill();
    }

    Result<void> open(const std::string& path) { return take(path, Session::open(path, Access::write)); }
    std::unique_ptr<ui::App> make_app(ui::Host& host, ui::PlaceId place) {
        auto app = std::make_unique<ui::App>(host, ui::make_parts(shared_));
        app_ = app.get();
        app_->set_session(session_.get());
        app_->show(place);
        return app;
    }
    const Settings& settings() const { return settings_; }

private:
    Result<void> take(const std::string& path, Result<Session> session) {
        if (!session) return session.refusal();
        if (app_) app_->set_session(nullptr);
        photos_.cancel();
        session_ = std::make_unique<Session>(std::move(*session));
        path_ = std::filesystem::absolute(path).string();
        shared_.zone = shared_.room = shared_.point = shared_.feed = Id();
        std::erase(settings_.recent, path_);
        settings_.recent.insert(settings_.recent.begin(), path_);
        if (settings_.recent.size() > most_recent) settings_.recent.resize(most_recent);
        keep_settings();
        if (app_) app_->set_session(session_.get());
        return done();
    }

    void keep_settings() {
        if (!can_save_) return;
        const Result<void> kept = save_settings(settings_);
        if (!kept && app_) app_->say(ui::Tone::note, in_english(kept.refusal()));
    }

    Author author() const {
        const auto visit = settings_.visits.find(path_);
        const bool known = visit != settings_.visits.end() && session_ && Id::is_valid(visit->second) &&
                           session_->job().has(Kind::visit, Id(visit->second));
        return {settings_.person, known ? visit->second : std::string()};
    }

    // A path beside the jobs made before, or in the home folder, that no file has yet.
    std::string free_path(std::string name) const {
        for (char& letter : name)
            if (letter == '/' || letter == '\\' || static_cast<unsigned char>(letter) < ' ') letter = '-';
        const char* home = std::getenv("HOME");
        std::filesystem::path folder = home ? home : ".";
        if (!settings_.recent.empty()) folder = std::filesystem::path(settings_.recent.front()).parent_path();
        std::string path = (folder / (name + ".tapjob")).string();
        for (int i = 2; file_exists(path); ++i) path = (folder / (name + " " + std::to_string(i) + ".tapjob")).string();
        return path;
    }

    Result<void> create(const ui::NewJob& job) {
        if (!job.person.empty()) settings_.person = job.person;
        Change change{ChangeOp::set, Kind::job, job_id(), {{"name", job.name}}};
        const Result<Value> volts = value_from_text(*find_field(Kind::job, "line_v"), job.line_v);
        if (!volts) return Refusal{"Line voltage " + in_english(volts.refusal()) + "."};
        if (!volts->is_null()) change.fields.emplace_back("line_v", *volts);
        const std::string path = free_path(job.name);
        const Command command{.changes = {change}, .fill_in = true, .place = {}};
        return take(path, Session::create(path, command, {settings_.person, {}}, make_stamp()));
    }

    Result<void> import(const std::string& in) {
        const Result<std::string> text = read_file(in, most_json_bytes);
        if (!text) return text.refusal();
        const Result<JobText> job = read_job(*text, in);
        if (!job) return job.refusal();
        const auto place = [&](std::size_t change, std::string_view field) { return job->place(change, field); };
        const std::string path = free_path(std::filesystem::path(in).stem().string());
        const Command command{.changes = job->changes, .fill_in = false, .place = place};
        return take(path, Session::create(path, command, {settings_.person, {}}, make_stamp()));
    }

    Result<Message> make_sheet(bool owner) {
        if (!session_) return Refusal{"No job is open, so there is no sheet to make: open a job first."};
        SheetRequest request;
        request.reader = owner ? SheetReader::owner : SheetReader::technician;
        std::vector<Code> files;
        for (const SheetMedium medium : {SheetMedium::pdf, SheetMedium::html}) {
            request.medium = medium;
            const Stamp stamp = make_stamp();  // one for each: ids come from it
            const Result<MadeSheet> sheet = tapwright::make_sheet(*session_, request, stamp);
            if (!sheet) return sheet.refusal();
            std::filesystem::path out(path_);
            out.replace_filename(out.stem().string() + (owner ? " owner" : " technician") +
                                 (medium == SheetMedium::pdf ? ".pdf" : ".html"));
            if (const Result<void> written = write_file(out.string(), sheet->bytes); !written) return written.refusal();
            const Result<bool> recorded = record_sheet(*session_, *sheet, author(), stamp);
            if (!recorded) return recorded.refusal();
            files.push_back(code(out.string()));
        }
        return Message(series(files));
    }

    // Between frames: photos that are ready go into the job. Returns: whether there was any.
    bool keep_photos() {
        std::vector<PhotoWorker::Ready> all = photos_.take_ready();
        for (PhotoWorker::Ready& ready : all) {
            if (!session_) break;
            if (!ready.photo) {
                app_->say(ui::Tone::stop, in_english(ready.photo.refusal()));
                continue;
            }
            const Result<AddedPhoto> kept =
                keep_photo(*session_, ready.about, std::move(*ready.photo), {}, author(), make_stamp());
            if (!kept)
                app_->say(ui::Tone::stop, in_english(kept.refusal()));
            else if (!kept->kept)
                app_->say(ui::Tone::note, "This photo was there already, so it is kept once.");
        }
        return !all.empty();
    }

    Result<ui::PhotoPixels> photo_pixels(const std::string& sha256, int longest) const {
        if (!session_) return Refusal{"No job is open."};
        const std::optional<Digest> digest = digest_from(sha256);
        if (!digest) return Refusal{"The photo's record names no picture."};
        const Result<Blob> blob = session_->get_blob(*digest);
        if (!blob) return blob.refusal();
        Result<photos::Thumbnail> small = photos::thumbnail(blob->copy.empty() ? blob->original : blob->copy, longest);
        if (!small) return small.refusal();
        return ui::PhotoPixels{small->width, small->height, std::move(small->rgba)};
    }

    void fill() {
        shared_.author = [this] { return author(); };
        shared_.stamp = [] { return make_stamp(); };
        shared_.set_visit = [this](const Id& visit) {
            settings_.visits[path_] = visit.text();
            keep_settings();
        };
        shared_.set_person = [this](const std::string& person) {
            settings_.person = person;
            keep_settings();
        };
        shared_.keep_preferences = [this](const ui::Preferences& preferences) {
            using Appearance = ui::Preferences::Appearance;
            settings_.theme = preferences.appearance == Appearance::day     ? "day"
                              : preferences.appearance == Appearance::night ? "night"
                                                                            : "";
            settings_.text_scale = static_cast<double>(preferences.text_scale);
            keep_settings();
        };
        shared_.create_job = [this](const ui::NewJob& job) { return create(job); };
        shared_.open_job = [this](const std::string& path) { return open(path); };
        shared_.import_job = [this](const std::string& path) { return import(path); };
        shared_.recent_jobs = [this] {
            std::vector<ui::RecentJob> jobs;
            for (const std::string& path : settings_.recent)
                if (file_exists(path)) jobs.push_back({path, std::filesystem::path(path).stem().string()});
            return jobs;
        };
        shared_.take_photos = [this](const Id& about, const std::vector<std::string>& paths) {
            photos_.begin(about, paths);
        };
        shared_.photo_work = [this] {
            const PhotoWorker::Progress progress = photos_.progress();
            return ui::PhotoWork{progress.done, progress.all};
        };
        shared_.cancel_photos = [this] { photos_.cancel(); };
        shared_.keep_photos = [this] { return keep_photos(); };
        shared_.photo_pixels = [this](const std::string& sha256, int longest) { return photo_pixels(sha256, longest); };
        shared_.make_sheet = [this](bool owner) { return make_sheet(owner); };
        shared_.say = [this](ui::Tone tone, Message sentence) {
            if (app_) app_->say(tone, std::move(sentence));
        };
    }

    Settings settings_;
    bool can_save_ = false;
    ui::Shared shared_;
    std::unique_ptr<Session> session_;
    std::string path_;
    ui::App* app_ = nullptr;
    PhotoWorker photos_;
};

}  // namespace

int open_window(const WindowCall& call) {
    constexpr std::array names = {"survey", "rooms", "lines", "readings", "snags", "handover"};
    const auto found = std::find(names.begin(), names.end(), call.place);
    if (!call.place.empty() && found == names.end()) {
        std::fprintf(stderr, "tapwright: --place must be survey, rooms, lines, readings, snags or handover.\n");
        return 2;
    }
    const auto place = call.place.empty() ? ui::PlaceId::rooms : static_cast<ui::PlaceId>(found - names.begin());
    Desk desk;
    if (!call.file.empty()) {
        const Result<void> opened = desk.open(call.file);
        if (!opened) {
            std::fprintf(stderr, "tapwright: %s\n", in_english(opened.refusal()).c_str());
            return 2;
        }
    }
    WindowOptions options;
    options.width = call.width;
    options.height = call.height;
    options.scale = call.scale;
    options.marks_file = call.marks;
    options.picture_file = call.picture;
    options.close_after_seconds = call.figures;
    options.figures = call.figures > 0;
    const std::string theme = call.theme.empty() ? desk.settings().theme : call.theme;
    using Appearance = ui::Preferences::Appearance;
    options.preferences.appearance = theme == "day"     ? Appearance::day
                                     : theme == "night" ? Appearance::night
                                                        : Appearance::system;
    if (const char* language = std::getenv("TAPWRIGHT_LANGUAGE"))
        options.preferences.language = &language_for(language);
    options.preferences.text_scale = static_cast<float>(desk.settings().text_scale);
    options.make_program = [&](ui::Host& host) { return desk.make_app(host, place); };
    return run_window(options);
}

}  // namespace tapwright::desktop
