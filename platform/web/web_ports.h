// ui::Ports in a browser: jobs in its private folder, files in and out by the page.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "platform/web/page_folder.h"
#include "platform/web/store/job_store.h"
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

    std::vector<ui::RecentJob> recent_jobs() const override;
    void create_job(const ui::NewJob& job, Done<void> done) override;
    void open_job(const std::string& file, Done<void> done) override { jobs_.open(file, done); }
    void import_job(const std::string& file, Done<void> done) override;

    bool makes_files() const override { return false; }
    void make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) override;
    bool can(ui::FileUse use) const override;
    void use_file(ui::FileUse use, const std::string& file, Done<void> done) override;

    void take_photos(const Id& about, const std::vector<std::string>& files) override;
    ui::PhotoWork photo_work() const override { return {}; }
    void cancel_photos() override {}
    bool keep_photos() override { return false; }
    Result<ui::PhotoPixels> photo_pixels(const std::string& sha256, int longest) override;

    std::string local_time(const std::string& time) const override;
    void say(ui::Tone tone, const Message& sentence) override {
        if (app_) app_->say(tone, sentence);
    }

private:
    void show(Session* session);

    OpenFiles files_;
    PageFolder folder_{files_};
    JobStore jobs_{folder_, files_};
    ui::Shared shared_{*this};
    ui::App* app_ = nullptr;
};

}  // namespace tapwright::web
