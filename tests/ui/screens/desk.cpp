#include "tests/ui/screens/desk.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "core/exchange/job_json.h"
#include "core/words/words.h"
#include "platform/sheets/sheets.h"
#include "ui/screens/common/parts.h"

namespace tapwright::tests {
namespace {

constexpr float least_target = 44;

ChangeList content_of(Start start) {
    if (start == Start::nothing) return {};
    return start == Start::demo ? demo_changes() : ChangeList{test::set(Kind::job, "job", {{"name", "Mill House"}})};
}

}  // namespace

ChangeList demo_changes() {
    std::ifstream file(std::string(TAPWRIGHT_SOURCE_DIR) + "/assets/demo.json");
    std::stringstream text;
    text << file.rdbuf();
    const Result<JobText> job = read_job(text.str(), "demo.json");
    REQUIRE(job.ok());
    return job->changes;
}

Desk::Desk(Start start, Screen screen, ui::PlaceId place) : Desk(content_of(start), screen, place) {}

Desk::Desk(const ChangeList& content, Screen screen, ui::PlaceId place) : path(folder.file("job.tapjob")) {
    if (!content.empty()) {
        Result<Session> made = Session::create(path, Command{.changes = content, .fill_in = false, .place = {}},
                                               {"Ada Quill", {}}, clock.next());
        REQUIRE(made.ok());
        session = std::make_unique<Session>(std::move(*made));
    }
    app = std::make_unique<ui::App>(words, ui::make_parts(shared));
    app->set_session(session.get());
    app->show(place);
    person = std::make_unique<Person>(*app, screen, regular_face(), semibold_face());
}

Stamp DeskPorts::stamp() {
    return desk_.clock.next();
}

void DeskPorts::create_job(const ui::NewJob& job, Done<void> done) {
    const ChangeList content = {test::set(Kind::job, "job", {{"name", job.name}})};
    done(desk_.take(Session::create(desk_.path, test::command(content), author(), stamp())));
}

void DeskPorts::make_files(ui::HandoverFile which, Done<std::vector<ui::MadeFile>> done) {
    using ui::HandoverFile;
    if (which != HandoverFile::owner_sheet && which != HandoverFile::technician_sheet) {
        made.push_back(which);
        return done(std::vector{ui::MadeFile{desk_.folder.file("sheet.pdf"), "sheet.pdf", "sheet"}});
    }
    SheetChoice choice;
    choice.reader = which == HandoverFile::owner_sheet ? SheetReader::owner : SheetReader::technician;
    const Stamp now = stamp();
    const auto no_photo = [](const std::string&) { return std::nullopt; };
    const Result<MadeSheet> sheet = render_sheet(*desk_.session, choice, no_photo, render_html, now);
    if (!sheet) return done(sheet.refusal());
    if (const Result<bool> kept = record_sheet(*desk_.session, *sheet, author(), now); !kept)
        return done(kept.refusal());
    made_sheet = sheet->bytes;
    made.push_back(which);
    done(std::vector{ui::MadeFile{desk_.folder.file("sheet.pdf"), "sheet.pdf", "sheet"},
                     ui::MadeFile{desk_.folder.file("sheet.html"), "sheet.html", "sheet"}});
}

void DeskPorts::say(ui::Tone tone, const Message& sentence) {
    HeadlessPorts::say(tone, sentence);
    desk_.app->say(tone, sentence);
}

Result<void> Desk::take(Result<Session> made) {
    if (!made) return made.refusal();
    app->set_session(nullptr);
    session = std::make_unique<Session>(std::move(*made));
    app->set_session(session.get());
    return done();
}

void Desk::open(std::unique_ptr<ui::Screen> screen) {
    person->toolkit->requests().open(std::move(screen));
    person->settle();
}

Id Desk::id(std::string_view name) const {
    Id found;
    for (std::size_t number = 0; number < kind_count; ++number)
        with_record_type(kind_at(number), [&]<class R>() {
            for (const R& record : job().all<R>())
                if (found == Id() && name_of(job(), record.id) == name) found = record.id;
        });
    REQUIRE_MESSAGE(found != Id(), "there is no record called ", std::string(name));
    return found;
}

const Point& Desk::point(std::string_view label) const {
    const Point* found = job().find<Point>(id(label));
    REQUIRE(found != nullptr);
    return *found;
}

void Desk::open_for_reading() {
    app->set_session(nullptr);
    session.reset();
    Result<Session> opened = Session::open(path, Access::read);
    REQUIRE(opened.ok());
    session = std::make_unique<Session>(std::move(*opened));
    app->set_session(session.get());
}

Job Desk::job_on_disk() {
    app->set_session(nullptr);
    session.reset();
    Result<Session> opened = Session::open(path, Access::write);
    REQUIRE(opened.ok());
    session = std::make_unique<Session>(std::move(*opened));
    app->set_session(session.get());
    return session->job();
}

void work_through(Person& person, const std::string& list, bool full) {
    const auto tick = [&](const std::string& step) {
        person.find(step);
        person.tap(step);
    };
    for (int i = 0;; ++i) {
        const std::string step = list + "." + std::to_string(i);
        if (person.has(step + ".full"))
            tick(step + (full ? ".full" : ".noted"));
        else if (!person.has(step))
            break;
        else if (person.mark(step).touchable)
            tick(step);
    }
    tick(list + ".done");
}

std::vector<std::string> Desk::faults() {
    std::vector<std::string> all = small_targets(*person->toolkit, least_target);
    for (const std::vector<std::string>& more :
         {cut_texts(*person->toolkit), overlapping_texts(*person->toolkit), repeated_marks(*person->toolkit)})
        all.insert(all.end(), more.begin(), more.end());
    return all;
}

std::vector<std::string> Desk::faults_down_the_page() {
    std::vector<std::string> all;
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    std::string before;
    for (int screenful = 0; screenful < 12; ++screenful) {
        for (std::string& fault : faults())
            if (std::find(all.begin(), all.end(), fault) == all.end()) all.push_back(std::move(fault));
        const std::string now = person->toolkit->marks().json();
        if (now == before) break;
        before = now;
        person->wheel(size.x * 0.6F, size.y * 0.6F, -6);
    }
    return all;
}

}  // namespace tapwright::tests
