// A person in front of the program's own screens, with a job file in a folder that is gone afterwards. What the
// platform would fill in (names, stamps, files) is filled in here, from memory.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/session/session.h"
#include "tests/session/temporary.h"
#include "tests/ui/frame/person.h"
#include "ui/app/app.h"
#include "ui/screens/common/shared.h"

namespace tapwright::tests {

enum class Start {
    nothing,    // no job is open
    empty_job,  // a job with a name and nothing else
    demo        // assets/demo.json
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

    // Everything wrong with what is on the screen now: too small, cut, overlapping or repeated.
    std::vector<std::string> faults();
    // The same over the whole page, from top to bottom.
    std::vector<std::string> faults_down_the_page();

    test::TemporaryFolder folder;
    test::Clock clock;
    std::string path, visit, made_sheet;
    ui::HeadlessHost words;
    ui::Shared shared;
    std::unique_ptr<Session> session;
    std::unique_ptr<ui::App> app;
    std::unique_ptr<Person> person;

private:
    Result<void> take(Result<Session> made);
    void fill();
};

// assets/demo.json as changes to an empty job.
ChangeList demo_changes();

}  // namespace tapwright::tests
