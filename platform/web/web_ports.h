// ui::Ports in a browser: jobs in its private folder, files in and out by the page.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "platform/web/page_folder.h"
#include "platform/web/store/job_store.h"
#include "platform/web/web_files.h"
#include "platform/web/web_photos.h"
#include "ui/app/app.h"
#include "ui/screens/common/shared.h"

namespace tapwright::web {

class WebPorts : public ui::Ports {
public:
    WebPorts();

    JobStore& jobs() { return jobs_; }
    const JobStore& jobs() const { return jobs_; }
    PageFolder& folder() { return folder_; }
    ui::Shared& shared() { return shared_; }
    // Whether the browser shares files at all.
    void set_can_share(bool can_share) { can_share_ = can_share; }
    // Of what is made of the job.
    void set_language(const Language& language) { language_ = &language; }
    // The app of these ports, once.
    std::unique_ptr<ui::App> make_app(ui::Host& host);

    Author author() const override { return jobs_.author(); }
    Stamp stamp() override;
    void set_visit(const Id& visit) override { jobs_.set_visit(visit); }
    void set_person(const std::string& person) override { jobs_.set_person(person); }
    void keep_preferences(const ui::Preferences& preferences) override;

    std::string usual_line_v() const override { return jobs_.settings().line_v; }
    const Job* library() const override { return &jobs_.library(); }
    void import_types(const std::string& file, Done<int> done) override { jobs_.import_types(file, done); }
    void export_types(const std::string& file, Done<void> done) override { made_.save_types(file, std::move(done)); }

    std::vector<ui::RecentJob> recent_jobs() const override;
    void create_job(const ui::NewJob& job, Done<void> done) override;
    void open_job(const std::string& file, Done<void> done) override { jobs_.open(file, done); }
    void import_job(const std::string& file, Done<void> done) override;
    bool keeps_jobs() const override { return true; }
    void duplicate_job(const std::string& file, Done<void> done) override { jobs_.duplicate(file, done); }
    void delete_job(const std::string& file, Done<void> done) override { jobs_.remove(file, done); }

    bool makes_files() const override { return true; }
    void make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) override;
    bool can(ui::FileUse use) const override;
    void use_files(ui::FileUse use, const std::vector<std::string>& files, Done<void> done) override {
        made_.use(use, files, std::move(done));
    }

    void take_photos(const Id& about, const std::vector<std::string>& files) override { photos_.take(about, files); }
    ui::PhotoWork photo_work() const override { return photos_.work(); }
    void cancel_photos() override { photos_.cancel(); }
    bool keep_photos() override;
    Result<ui::PhotoPixels> photo_pixels(const std::string& sha256, int longest) override {
        return photos_.pixels(sha256, longest);
    }

    std::string local_time(const std::string& time) const override;
    void say(ui::Tone tone, const Message& sentence) override {
        if (app_) app_->say(tone, sentence);
    }

private:
    void show(Session* session);

    OpenFiles files_;
    PageFolder folder_{files_};
    JobStore jobs_{folder_, files_};
    WebFiles made_{jobs_};
    WebPhotos photos_{jobs_};
    const Language* language_ = &english();
    bool can_share_ = false;
    ui::Shared shared_{*this};
    ui::App* app_ = nullptr;
};

}  // namespace tapwright::web
