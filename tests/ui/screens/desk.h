// A person in front of the program's own screens, with a job file in a folder that is gone afterwards, and ports
// without a machine that make and keep that one file.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/session/session.h"
#include "tests/session/temporary.h"
#include "tests/ui/frame/person.h"
#include "ui/app/app.h"
#include "ui/screens/common/headless_ports.h"
#include "ui/screens/common/shared.h"

namespace tapwright::tests {

enum class Start {
    nothing,    // no job is open
    empty_job,  // a job with a name and nothing else
    demo        // assets/demo.json
};

class Desk;

class DeskPorts : public ui::HeadlessPorts {
public:
    explicit DeskPorts(Desk& desk) : desk_(desk) {}
    Stamp stamp() override;
    void create_job(const ui::NewJob& job, Done<void> done) override;
    bool makes_files() const override { return true; }
    void make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) override;
    void say(ui::Tone tone, const Message& sentence) override;

    std::string made_sheet;  // its bytes
    std::vector<ui::HandoverFile> made;

private:
    Desk& desk_;
};

class Desk {
public:
    explicit Desk(Start start, Screen screen = {}, ui::PlaceId place = ui::PlaceId::rooms);
    // On a job made of these changes; on none where there are none.
    Desk(const ChangeList& content, Screen screen, ui::PlaceId place);

    // Puts a screen on top of the place in hand.
    void open(std::unique_ptr<ui::Screen> screen);
    // The id of the first record with that name or label, rooms before zones. Fails the test where there is none.
    Id id(std::string_view name) const;
    const Job& job() const { return session->job(); }
    const Derived& derived() const { return session->derived(); }
    const Point& point(std::string_view label) const;

    // Opens the file once more: what is found there is what was kept.
    Job job_on_disk();
    // Opens it in the window as one that can only be read.
    void open_for_reading();

    // Everything wrong with what is on the screen now: too small, cut, overlapping or repeated.
    std::vector<std::string> faults();
    // The same over the whole page, from top to bottom.
    std::vector<std::string> faults_down_the_page();

    test::TemporaryFolder folder;
    test::Clock clock;
    std::string path;
    ui::HeadlessHost words;
    DeskPorts ports{*this};
    ui::Shared shared{ports};
    std::unique_ptr<Session> session;
    std::unique_ptr<ui::App> app;
    std::unique_ptr<Person> person;

    // Takes the job for the open one.
    Result<void> take(Result<Session> made);
};

// Ticks every step of a checklist that is in sight, attenuators full or as noted, and touches the key that confirms
// them. Requires: nothing of it is ticked.
void work_through(Person& person, const std::string& list, bool full = false);

// assets/demo.json as changes to an empty job.
ChangeList demo_changes();

}  // namespace tapwright::tests
