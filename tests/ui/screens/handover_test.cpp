// Handover: what is missing leads to where it is put right, sign-off and sheet in a few touches, what is done with a
// file once it is made; settings as left, the history, and a job that can only be read.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <set>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

constexpr Screen hand_phone{390, 844};

void keep_all(Desk& desk, const ChangeList& changes) {
    REQUIRE(desk.session->request(test::command(changes), {"Ada Quill", {}}, desk.clock.next()).ok());
    desk.person->frames(2);
}

void show_all(Person& person) {
    if (!person.has("handover.all")) return;
    person.find("handover.all");
    person.tap("handover.all");
}

// Every entry of what is missing, in order.
std::vector<std::string> missing(Desk& desk) {
    std::vector<std::string> names;
    for (const ui::Mark& mark : desk.person->toolkit->marks().all())
        if (mark.name.starts_with("handover.missing.")) names.push_back(mark.name);
    return names;
}

bool has_missing(Desk& desk, const std::string& part) {
    for (const ui::Mark& mark : desk.person->toolkit->marks().all())
        if (mark.name.starts_with("handover.missing.") && mark.text.find(part) != std::string::npos) return true;
    return false;
}

// A job in which one loudspeaker on one zone is recorded down to the last figure.
ChangeList whole_job() {
    return {
        test::set(
            Kind::job, "job",
            {{"name", "Mill House"}, {"client", "The owner"}, {"contact", "555-0142"}, {"after_hours", "555-0177"}}),
        test::add(Kind::amplifier, "a-1", {{"name", "Amplifier"}, {"rated_w", 100.0}}),
        test::add(Kind::channel, "c-1", {{"name", "1"}, {"amplifier", "a-1"}, {"rated_w", 100.0}}),
        test::add(Kind::zone, "z-1", {{"name", "Bar"}, {"channel", "c-1"}, {"limit_w", 100.0}, {"emergency", "no"}}),
        test::add(Kind::room, "r-1", {{"name", "Bar room"}}),
        test::add(Kind::cable_type, "k-1", {{"name", "2x1.5"}, {"area_mm2", 1.5}}),
        test::add(Kind::speaker_type, "t-1", {{"name", "Ceiling"}, {"taps_w", List{2.5, 5.0}}}),
        test::add(Kind::setting, "set-1", {{"amplifier", "a-1"}, {"name", "Input 1"}, {"value", "gain 5"}}),
        test::add(Kind::point, "p-1",
                  {{"kind", "speaker"},
                   {"label", "L-1"},
                   {"room", "r-1"},
                   {"type", "t-1"},
                   {"tap_w", 5.0},
                   {"fed_from", "z-1"},
                   {"cable", "k-1"},
                   {"length_m", 10.0},
                   {"heard", "ok"},
                   {"emergency", "no"}}),
        test::add(Kind::reading, "m-1",
                  {{"at", "z-1"}, {"quantity", "ohms"}, {"value", 1000.0}, {"isolated", true}, {"hz", 1000.0}}),
    };
}

}  // namespace

TEST_CASE("an empty job is never told that nothing is missing") {
    Desk desk(Start::empty_job, hand_phone, PlaceId::handover);
    CHECK_FALSE(desk.person->has("handover.complete"));
    for (const char* name : {"no_zones", "no_speakers", "client", "contact", "after_hours"})
        CHECK_MESSAGE(desk.person->has("handover.missing." + std::string(name)), name);
    desk.person->tap("handover.missing.no_speakers");
    CHECK(desk.app->place() == PlaceId::rooms);
}

TEST_CASE("only a job with something recorded and nothing missing is told so") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    std::string found;
    for (const std::string& name : missing(desk)) found += "\n  " + name + ": " + desk.person->text(name);
    CHECK_MESSAGE(desk.person->has("handover.complete"), found);
}

TEST_CASE("lengths, overrides, a buzzing loudspeaker, the client and the contact are missing where they are") {
    const std::pair<tapwright::Change, const char*> lacks[] = {
        {test::set(Kind::point, "p-1", {{"length_m", Value()}}), "length"},
        {test::set(Kind::point, "p-1", {{"heard", "buzz"}}), "L-1"},
        {test::set(Kind::point, "p-1", {{"tap_w", Value()}}), "1 loudspeaker without a recorded tap"},
        {test::set(Kind::point, "p-1", {{"heard", Value()}}), "1 loudspeaker was not listened to"},
        {test::set(Kind::job, "job", {{"client", Value()}}), "Client not recorded"},
        {test::set(Kind::job, "job", {{"contact", Value()}}), "Contact not recorded"},
        {test::set(Kind::job, "job", {{"after_hours", Value()}}), "Out-of-hours contact not recorded"},
        {test::add(Kind::interface, "i-1", {{"kind", "fire_mute"}, {"amplifier", "a-1"}}), "no test recorded"},
        {test::add(Kind::snag, "s-1", {{"text", "Tile cracked"}, {"about", "r-1"}}), "1 open snag"},
    };
    for (const auto& each : lacks) {
        const auto& words = each.second;
        Desk desk(whole_job(), hand_phone, PlaceId::handover);
        keep_all(desk, {each.first});
        CHECK_FALSE_MESSAGE(desk.person->has("handover.complete"), words);
        CHECK_MESSAGE(has_missing(desk, words), words);
    }
}

TEST_CASE("each entry of what is missing leads to a page of its own") {
    Desk desk(Start::demo, hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    show_all(person);
    const std::vector<std::string> names = missing(desk);
    REQUIRE(names.size() > 12);
    for (const std::string& name : names) {
        person.find(name);
        person.tap(name);
        const bool has_left = desk.app->place() != PlaceId::handover || desk.app->depth() > 1;
        CHECK_MESSAGE(has_left, name);
        if (desk.app->place() != PlaceId::handover) person.tap("place.handover");
        while (desk.app->depth() > 1) person.press(ImGuiKey_Escape);
    }
}

TEST_CASE("what is said of a reading that does not fit leads to the search for its fault") {
    Desk desk(Start::demo, hand_phone, PlaceId::handover);
    show_all(*desk.person);
    std::string of_foyer;
    for (const ui::Mark& mark : desk.person->toolkit->marks().all())
        if (mark.name.starts_with("handover.missing.finding.") && mark.text.find("Foyer") != std::string::npos &&
            mark.text.find("baseline") != std::string::npos)
            of_foyer = mark.name;
    REQUIRE_FALSE(of_foyer.empty());
    desk.person->find(of_foyer);
    desk.person->tap(of_foyer);
    CHECK(desk.person->text("header.title") == "Find the fault: Foyer");
}

TEST_CASE("findings and what is missing are one list, without a tap said twice") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    keep_all(desk, {test::set(Kind::point, "p-1", {{"tap_w", Value()}})});
    int said = 0;
    for (const std::string& name : missing(desk)) said += desk.person->text(name).find("tap") != std::string::npos;
    CHECK(said == 1);
}

TEST_CASE("sign-off and sheet take six touches, and the sheet is opened from where it is made") {
    Desk desk(whole_job(), hand_phone, PlaceId::rooms);
    Person& person = *desk.person;
    const int before = person.touches();
    person.tap("place.handover");
    person.tap("handover.sign");
    person.type("Odile Marsh");  // the field has the keyboard already
    const ui::Area field = person.mark("sign.field").area;
    person.drag(field.x + 30, field.y + 60, field.x + field.width - 30, field.y + 90);
    person.tap("sign.save");
    person.tap("handover.owner");
    person.tap("made.open.0");
    CHECK(person.touches() - before <= 6);
    REQUIRE(desk.job().count(Kind::signoff) == 1);
    const Signoff& signoff = desk.job().all<Signoff>().front();
    CHECK(signoff.name == "Odile Marsh");
    CHECK(signoff.role == "for the owner");
    REQUIRE(signoff.strokes);
    CHECK(signoff.strokes->front().size() > 5);
    REQUIRE(desk.ports.files_used.size() == 1);
    CHECK(desk.ports.files_used.front().first == ui::FileUse::open);
    CHECK(desk.ports.files_used.front().second.ends_with("sheet.pdf"));
    person.tap("made.folder");
    CHECK(desk.ports.files_used.back().first == ui::FileUse::show_folder);
}

TEST_CASE("who signed did so for the state of the record, which signing and sheets do not change") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    const std::string state = desk.session->state();
    person.tap("handover.sign");
    person.type("Odile Marsh");
    person.tap("sign.save");
    person.tap("handover.owner");
    person.tap("made.close");
    const Signoff& signoff = desk.job().all<Signoff>().front();
    REQUIRE(signoff.sheet);
    CHECK(signoff.sheet->hex == state);
    CHECK(desk.session->state() == state);
    CHECK(desk.job().count(Kind::sheet) == 1);
    const std::string row = "handover.signed." + signoff.id.text();
    person.find(row);
    CHECK(person.text(row).find("Signed for this record") != std::string::npos);
    keep_all(desk, {test::set(Kind::point, "p-1", {{"tap_w", 2.5}})});
    CHECK(person.text(row).find("Record changed since") != std::string::npos);
    person.tap(row);
    CHECK(person.text("signed.state").find("The record has changed since.") != std::string::npos);
}

TEST_CASE("what was written into a sign-off is said on the way out, and nothing of it is saved") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    person.tap("handover.sign");
    person.type("Odile Marsh");
    person.press(ImGuiKey_Escape);
    person.press(ImGuiKey_Escape);
    CHECK(desk.app->depth() == 1);
    CHECK(desk.job().count(Kind::signoff) == 0);
}

TEST_CASE("a stroke begins where the pen touches, and the page does not scroll under it") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    person.tap("handover.sign");
    const ui::Area field = person.mark("sign.field").area;
    person.drag(field.x + field.width / 2, field.y + 10, field.x + field.width / 2, field.y + field.height - 10);
    CHECK(person.mark("sign.field").area == field);
    CHECK(person.text("sign.field").ends_with(", written"));
    person.tap("sign.clear");
    CHECK_FALSE(person.text("sign.field").ends_with(", written"));
}

TEST_CASE("labels, a sealed copy, JSON and CSV are made from here") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    for (const char* name :
         {"handover.technician", "handover.labels", "handover.sealed", "handover.json", "handover.csv"}) {
        person.find(name);
        person.tap(name);
        REQUIRE_MESSAGE(person.has("handover.made"), name);
        person.tap("made.close");
    }
    using ui::HandoverFile;
    CHECK(desk.ports.made == std::vector{HandoverFile::technician_sheet, HandoverFile::labels,
                                         HandoverFile::sealed_copy, HandoverFile::json, HandoverFile::csv});
    person.find("handover.last");
    person.tap("handover.last");
    CHECK(person.has("handover.made"));
}

TEST_CASE("positions of attenuators and zone levels are recorded on the page of settings as left") {
    ChangeList job = whole_job();
    for (const tapwright::Change& more :
         {test::set(Kind::zone, "z-1", {{"output", "stepped"}}),
          test::add(Kind::attenuator_type, "at-1",
                    {{"name", "Wall 60"}, {"rated_w", 60.0}, {"steps_db", List{0.0, -3.0, -6.0}}, {"has_off", true}}),
          test::add(Kind::point, "vc-1", {{"kind", "attenuator"}, {"label", "VC-1"}, {"type", "at-1"}}),
          test::add(Kind::point, "vc-2", {{"kind", "attenuator"}, {"label", "VC-2"}, {"room", "r-1"}})})
        job.push_back(more);
    for (const Screen& screen : {hand_phone, Screen{844, 390}, Screen{320, 568}}) {
        CAPTURE(screen.width);
        Desk desk(job, screen, PlaceId::handover);
        Person& person = *desk.person;
        person.find("handover.settings");
        person.tap("handover.settings");
        const auto touch = [&](const char* key) {
            person.find(key);
            person.tap(key);
        };
        const auto knob = [&](const char* id) { return desk.job().find<Point>(Id(id))->knob_db; };
        // As the type has them; the one touched again is not noted.
        touch("left.position.vc-1.1");
        CHECK(knob("vc-1") == Knob{Decibels(-3), false});
        touch("left.position.vc-1.3");
        CHECK(knob("vc-1") == Knob{Decibels(0), true});
        touch("left.position.vc-1.3");
        CHECK_FALSE(knob("vc-1"));
        // Without a type a decibel at a time.
        touch("left.position.vc-2.less");
        touch("left.position.vc-2.less");
        CHECK(knob("vc-2") == Knob{Decibels(-2), false});
        touch("left.position.vc-2.more");
        CHECK(knob("vc-2") == Knob{Decibels(-1), false});
        touch("left.position.vc-2.off");
        CHECK(knob("vc-2") == Knob{Decibels(0), true});
        touch("left.position.vc-2.full");
        CHECK(knob("vc-2") == Knob{Decibels(0), false});
        touch("left.position.z-1.less");
        CHECK(desk.job().find<Zone>(Id("z-1"))->knob_db == Decibels(-1));
        CHECK(desk.app->depth() == 2);
        person.tap("app.undo");
        CHECK_FALSE(desk.job().find<Zone>(Id("z-1"))->knob_db);
        for (const std::string& fault : desk.faults_down_the_page()) FAIL_CHECK(fault);
    }
}

TEST_CASE("settings as left are typed in place, and new ones added with the usual names a touch away") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    Person& person = *desk.person;
    person.find("handover.settings");
    person.tap("handover.settings");
    person.tap("left.set-1");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("gain 7");
    person.press(ImGuiKey_Enter);
    CHECK(desk.job().find<Setting>(Id("set-1"))->value == "gain 7");
    person.find("left.new.a-1.usual.0");
    person.tap("left.new.a-1.usual.0");
    person.find("left.new.a-1.value");
    person.tap("left.new.a-1.value");
    person.type("-6 dB");
    person.find("left.new.a-1.add");
    person.tap("left.new.a-1.add");
    REQUIRE(desk.job().count(Kind::setting) == 2);
    CHECK(desk.job().all<Setting>().back().name == "Output 1 level");
    CHECK(desk.job().all<Setting>().back().value == "-6 dB");
}

TEST_CASE("all photos of the job are thumbnails, newest first, with what they show in words") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    keep_all(desk, {test::add(Kind::snag, "s-1", {{"text", "Tile cracked"}, {"about", "r-1"}})});
    const auto photo = [](const char* id, char digit, const char* about, const char* taken) {
        return test::add(Kind::photo, id,
                         {{"about", about}, {"sha256", std::string(64, digit)}, {"taken", std::string(taken)}});
    };
    keep_all(desk, {photo("f-1", '1', "r-1", "2026-03-01T10:00:00Z"), photo("f-2", '2', "s-1", "2026-03-03T10:00:00Z"),
                    photo("f-3", '3', "m-1", "2026-03-02T10:00:00Z")});
    desk.open(ui::all_photos_screen(desk.shared));
    Person& person = *desk.person;
    CHECK(person.text("photo.f-2").find("Tile cracked") != std::string::npos);
    CHECK(person.text("photo.f-3").find("Reading of Bar") != std::string::npos);
    const ui::Area first = person.mark("photo.f-2").area, second = person.mark("photo.f-3").area,
                   third = person.mark("photo.f-1").area;
    CHECK((first.y < second.y || (first.y == second.y && first.x < second.x)));
    CHECK(third.y > first.y);
}

TEST_CASE("no page about photos, sheets or the history shows an id") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    keep_all(desk, {test::add(Kind::visit, "v-77", {{"purpose", "service"}, {"date", "2026-03-02"}})});
    keep_all(desk, {test::add(Kind::reading, "m-77",
                              {{"at", "z-1"}, {"quantity", "ohms"}, {"value", 1000.0}, {"visit", "v-77"}})});
    keep_all(desk, {test::add(Kind::photo, "f-77", {{"about", "m-77"}, {"sha256", std::string(64, '1')}})});
    keep_all(desk, {test::set(Kind::photo, "f-77", {{"about", "v-77"}})});
    const auto check = [&](std::unique_ptr<ui::Screen> page, const char* name) {
        desk.open(std::move(page));
        for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
            for (const char* id : {"v-77", "m-77", "f-77"})
                CHECK_MESSAGE(piece.full.find(id) == std::string::npos, name, ": ", piece.full);
    };
    check(ui::history_screen(desk.shared), "history");
    check(ui::record_screen(desk.shared, Kind::photo, Id("f-77")), "photo");
    check(ui::record_screen(desk.shared, Kind::reading, Id("m-77")), "reading");
    check(ui::records_screen(desk.shared, Kind::reading), "readings");
    check(ui::all_photos_screen(desk.shared), "photos");
}

TEST_CASE("the window's colours, text size and the person's name change at once and are kept") {
    Desk desk(whole_job(), hand_phone, PlaceId::handover);
    desk.open(ui::settings_screen(desk.shared));
    Person& person = *desk.person;
    person.find("settings.theme.2");
    person.tap("settings.theme.2");
    CHECK(person.toolkit->theme().night);
    person.find("settings.text.2");
    person.tap("settings.text.2");
    REQUIRE(desk.ports.kept_preferences.size() == 2);
    CHECK(desk.ports.kept_preferences.back().appearance == ui::Preferences::Appearance::night);
    CHECK(desk.ports.kept_preferences.back().text_scale == doctest::Approx(1.5));
    person.find("settings.person");
    person.tap("settings.person");
    person.press(ImGuiMod_Ctrl | ImGuiKey_A);
    person.type("Bo Tern");
    person.press(ImGuiKey_Enter);
    CHECK(desk.ports.person == "Bo Tern");
}

TEST_CASE("in a job that can only be read nothing that can be touched would change it") {
    for (int place = 0; place < ui::place_count; ++place) {
        Desk desk(Start::demo, hand_phone, static_cast<PlaceId>(place));
        desk.open_for_reading();
        desk.person->frames(3);
        const std::size_t batches = desk.session->batch_count();
        std::set<std::string> tried;
        for (int round = 0; round < 80; ++round) {
            std::string next;
            for (const ui::Mark& mark : desk.person->toolkit->marks().all())
                if (mark.touchable && mark.enabled && desk.person->sees(mark.name) && !tried.contains(mark.name) &&
                    !mark.name.starts_with("place.")) {
                    next = mark.name;
                    break;
                }
            if (next.empty()) break;
            tried.insert(next);
            desk.person->tap(next);
            for (const ui::TextPiece& piece : desk.person->toolkit->marks().texts())
                CHECK_MESSAGE(piece.full.find("open for reading only") == std::string::npos, next, ": ", piece.full);
            for (int back = 0; back < 6 && desk.app->depth() > 1; ++back) desk.person->press(ImGuiKey_Escape);
            if (ImGui::GetTopMostPopupModal()) desk.person->press(ImGuiKey_Escape);
            if (desk.app->place() != static_cast<PlaceId>(place))
                desk.person->tap("place." + std::string(ui::place_key(static_cast<PlaceId>(place))));
        }
        CHECK(desk.session->batch_count() == batches);
        CHECK(tried.size() > 3);
    }
}
