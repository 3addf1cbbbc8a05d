// The ports without a machine: a person with a name, a clock that counts, photos of one grey, and a note of all that
// was asked. Job files and sheets are made by whoever derives from it, as they need files.
#pragma once

#include <cstdio>
#include <utility>

#include "ui/screens/common/ports.h"

namespace tapwright::ui {

class HeadlessPorts : public Ports {
public:
    Author author() const override { return {person, visit}; }
    // A second after the one before, with the next seed.
    Stamp stamp() override {
        ++stamps;
        const std::int64_t minutes = stamps / 60;
        char time[40];
        std::snprintf(time, sizeof time, "2026-03-02T%02d:%02d:%02dZ", static_cast<int>(8 + minutes / 60 % 12),
                      static_cast<int>(minutes % 60), static_cast<int>(stamps % 60));
        return {time, 1772438400000 + stamps * 1000, static_cast<std::uint64_t>(stamps) * 7919};
    }
    void set_visit(const Id& id) override { visit = id.text(); }
    void set_person(const std::string& name) override { person = name; }
    void keep_preferences(const Preferences& preferences) override { kept_preferences.push_back(preferences); }

    std::string usual_line_v() const override { return line_v; }
    const Job* library() const override { return &types; }

    std::vector<RecentJob> recent_jobs() const override { return recent; }
    void create_job(const NewJob&, Done<void> done) override { done(no_files()); }
    void open_job(const std::string&, Done<void> done) override { done(no_files()); }
    void import_job(const std::string&, Done<void> done) override { done(no_files()); }
    bool keeps_jobs() const override { return keeps; }
    void duplicate_job(const std::string& file, Done<void> done) override {
        duplicated.push_back(file);
        done({});
    }
    void delete_job(const std::string& file, Done<void> done) override {
        deleted.push_back(file);
        done({});
    }

    bool makes_files() const override { return false; }
    void make_files(HandoverFile, Done<std::vector<MadeFile>> done) override { done(no_files()); }
    bool can(FileUse use) const override { return use != FileUse::share; }
    void use_files(FileUse use, const std::vector<std::string>& files, Done<void> done) override {
        for (const std::string& file : files) files_used.emplace_back(use, file);
        done({});
    }

    void take_photos(const Id& about, const std::vector<std::string>& files) override {
        for (const std::string& file : files) photos_asked.emplace_back(about, file);
    }
    PhotoWork photo_work() const override { return work; }
    void cancel_photos() override { work = {}; }
    bool keep_photos() override { return false; }
    // Half as high as wide.
    Result<PhotoPixels> photo_pixels(const std::string&, int longest) override {
        const auto side = static_cast<std::size_t>(longest);
        return PhotoPixels{longest, longest / 2, std::vector<std::uint8_t>(side * (side / 2) * 4, 200)};
    }

    std::string local_time(const std::string& time) const override { return time; }
    void say(Tone tone, const Message& sentence) override { said.emplace_back(tone, sentence); }

    // What it answers.
    std::string person = "Ada Quill";
    std::string visit;
    std::string line_v;
    Job types;
    std::vector<RecentJob> recent;
    PhotoWork work;
    bool keeps = false;  // jobs lie inside the program

    // What it was asked.
    std::vector<std::string> duplicated, deleted;
    std::int64_t stamps = 0;
    std::vector<Preferences> kept_preferences;
    std::vector<std::pair<Id, std::string>> photos_asked;
    std::vector<std::pair<FileUse, std::string>> files_used;
    std::vector<std::pair<Tone, Message>> said;

private:
    static Refusal no_files() { return {Message("There are no files here.")}; }
};

}  // namespace tapwright::ui
