// The real window with a real pointer and real keys; every test looks into the job file afterwards.
#include <doctest/doctest.h>

#include <unistd.h>

#include <filesystem>
#include <sstream>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/desktop/screen.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct Size {
    int width, height;
};
constexpr Size upright{390, 844}, on_its_side{844, 390};

// The test that asks runs once for each way to hold a phone.
Size either_way() {
    Size size = upright;
    SUBCASE("upright") {
        size = upright;
    }
    SUBCASE("on its side") {
        size = on_its_side;
    }
    return size;
}

// A folder with a job file and the display in front of it.
struct Desk {
    explicit Desk(Size size = upright) : screen(folder.path().string(), size.width, size.height) {}

    Ran program(const std::vector<std::string>& arguments) const {
        return tapwright::test::tapwright(folder.path().string(), arguments);
    }
    void import_demo() const {
        REQUIRE(program({"import", TAPWRIGHT_SOURCE_DIR "/assets/demo.json", job}).status == 0);
    }
    // The whole job as the file holds it. Requires: no window holds the file.
    Value exported() const {
        const std::string out = folder.file("out.json");
        std::filesystem::remove(out);
        REQUIRE(program({"export", job, out}).status == 0);
        const Result<Value> all = parse_json(read_bytes(out), "out.json");
        REQUIRE(all.ok());
        return *all;
    }
    Value point(const std::string& label) const {
        const Value all = exported();
        for (const Value& each : *all.find("points").list())
            if (*each.find("label").text() == label) return each;
        FAIL("there is no point called ", label);
        return {};
    }

    TemporaryFolder folder;
    std::string job = folder.file("job.tapjob");
    Screen screen;
};

void open_by_finding(Screen& screen, const std::string& typed, const std::string& id) {
    // Keys reach a window only once the display has given it the focus.
    for (int tries = 0; tries < 20 && !screen.sees("find.text"); ++tries) screen.press("ctrl+f");
    REQUIRE(screen.waits_for("find.text"));
    screen.type(typed);
    screen.tap("find." + id);
}

// The number of a tap's button, by the watts it begins with.
std::string tap_button(Screen& screen, const std::string& row, const std::string& watts) {
    screen.waits_for(row + ".0");
    for (int i = 0; i < 12; ++i)
        if (screen.text(row + "." + std::to_string(i)).starts_with(watts)) return row + "." + std::to_string(i);
    FAIL("no tap of ", watts);
    return {};
}

// Before the first reading on a line: five steps, the last in two ways where attenuators are recorded.
void tick_all_steps(Screen& screen) {
    const auto tick = [&](const std::string& step) {
        screen.find(step);
        screen.tap(step);
    };
    for (int i = 0; i < 4; ++i) tick("caution." + std::to_string(i));
    tick(screen.text("caution.4.noted").empty() ? "caution.4" : "caution.4.noted");
    tick("caution.done");
}

std::size_t photos_of(const Value& job) {
    return job.find("photos").list() ? job.find("photos").list()->size() : 0;
}

}  // namespace

TEST_CASE("with a real pointer a job of three rooms goes from nothing to the owner's sheet") {
    Desk desk(either_way());
    REQUIRE(desk.program({"new", desk.job, "--name", "Mill House"}).status == 0);
    Screen& screen = desk.screen;
    screen.start({desk.job});
    screen.tap("place.lines");
    screen.tap("lines.add");
    screen.tap("place.rooms");
    for (int room = 0; room < 3; ++room) {
        screen.tap("rooms.new");
        screen.tap("rooms.add");
        screen.tap("room.add");
        const std::string five = tap_button(screen, "room.new.tap", "5 W");
        screen.find(five);
        screen.tap(five);
        screen.tap("room.same");
        screen.tap("room.many.add");
        screen.press("Escape");
    }
    screen.tap("place.readings");
    screen.tap("readings.add");
    screen.find("emergency.no");
    screen.tap("emergency.no");
    tick_all_steps(screen);
    for (const char* key : {"pad.1", "pad.6", "pad.6", "pad.keep"}) screen.tap(key);
    screen.tap("place.handover");
    screen.find("handover.owner");
    screen.tap("handover.owner");
    CHECK(screen.waits_for("handover.made"));
    screen.close();

    const Value job = desk.exported();
    CHECK(job.find("rooms").list()->size() == 3);
    REQUIRE(job.find("points").list()->size() == 6);
    for (const Value& point : *job.find("points").list()) CHECK(*point.find("tap_w").number() == 5);
    CHECK(*(*job.find("readings").list())[0].find("value").number() == 166);
    bool has_sheet = false;
    for (const auto& file : std::filesystem::directory_iterator(desk.folder.path()))
        has_sheet =
            has_sheet || (file.path().extension() == ".pdf" && read_bytes(file.path().string()).starts_with("%PDF"));
    CHECK(has_sheet);
}

TEST_CASE("a tap over the limit is asked about, recorded, and taken back with Ctrl+Z") {
    Desk desk(either_way());
    desk.import_demo();
    const Value before = desk.point("C-101");
    REQUIRE(desk.program({"set", desk.job, "z-1", "limit_w=44"}).status < 2);
    Screen& screen = desk.screen;
    screen.start({desk.job});
    open_by_finding(screen, "C-101", "s-101");
    const std::string most = tap_button(screen, "point.tap", "10 W");
    screen.find(most);
    screen.tap(most);
    CHECK(screen.waits_for_text("point.over.why", "Stop: "));
    screen.tap("point.over.yes");
    CHECK(screen.waits_for_text("strip.headroom", "over the limit"));
    screen.close();
    CHECK(*desk.point("C-101").find("tap_w").number() == 10);

    // Undo is this person's, also the next time the file is opened.
    screen.start({desk.job});
    for (int tries = 0; tries < 20 && screen.text("kept").empty() && !screen.sees("message.0"); ++tries)
        screen.press("ctrl+z");
    CHECK(screen.waits_for_text("kept", "Undone: C-101: Tap 10 W"));
    screen.close();
    CHECK(desk.point("C-101") == before);
}

TEST_CASE("a reading a quarter low is called more load and kept as it was typed") {
    Desk desk(either_way());
    desk.import_demo();
    const Value checked = json_of(desk.program({"check", desk.job, "--json"}));
    double expected = 0;
    for (const Value& zone : *checked.find("zones").list())
        if (*zone.find("id").text() == "z-3") expected = *zone.find("ohms").number();
    const std::string typed = std::to_string(expected * 0.75).substr(0, 4);
    Screen& screen = desk.screen;
    screen.start({desk.job, "--place", "readings"});
    screen.find("readings.zone.z-3");
    screen.tap("readings.zone.z-3");
    screen.tap("at.add");
    tick_all_steps(screen);
    REQUIRE(screen.waits_for("pad.keep"));
    screen.type(typed);
    CHECK(screen.waits_for_text("entry.verdict", "More load"));
    screen.press("Return");
    CHECK(screen.waits_for("kept"));
    screen.close();
    const Value job = desk.exported();
    CHECK(*job.find("readings").list()->back().find("value").number() == std::stod(typed));
    CHECK(*job.find("readings").list()->back().find("at").text() == "z-3");
}

TEST_CASE("a window that is resized in the midst of an entry keeps what was typed, in a field and on the pad") {
    Desk desk;
    desk.import_demo();
    Screen& screen = desk.screen;
    screen.start({desk.job});
    screen.tap("rooms.new");
    screen.tap("rooms.name");
    screen.type("Cellar");
    screen.resize(on_its_side.width, on_its_side.height);
    CHECK(screen.text("rooms.name") == "Cellar");
    screen.find("rooms.add");
    screen.tap("rooms.add");
    CHECK(screen.waits_for_text("kept", "Cellar added"));

    screen.tap("place.readings");
    screen.tap("readings.add");
    tick_all_steps(screen);
    for (const char* key : {"pad.4", "pad.3"}) screen.tap(key);
    CHECK_MESSAGE(screen.waits_for_text("pad.value", "43"), screen.text("pad.value"));
    const std::string typed = screen.text("pad.value");
    screen.resize(upright.width, upright.height);
    CHECK(screen.text("pad.value") == typed);
    screen.tap("pad.keep");
    CHECK(screen.waits_for("kept"));
    screen.close();
    const Value job = desk.exported();
    CHECK(*job.find("readings").list()->back().find("value").number() == 43);
    CHECK(*job.find("rooms").list()->back().find("name").text() == "Cellar");
}

TEST_CASE("a label is found by typing and its feed corrected") {
    Desk desk(either_way());
    desk.import_demo();
    Screen& screen = desk.screen;
    screen.start({desk.job});
    open_by_finding(screen, "C-126", "s-126");
    screen.find("point.fed_from");
    screen.tap("point.fed_from");
    screen.type("C-121");
    screen.find("pick.s-121");
    screen.tap("pick.s-121");
    CHECK(screen.waits_for_text("kept", "Fed from"));
    screen.close();
    CHECK(*desk.point("C-126").find("fed_from").text() == "s-121");
}

TEST_CASE("a process killed in the middle of an entry has every touch in the file") {
    Desk desk;
    desk.import_demo();
    const std::size_t before = desk.exported().find("points").list()->size();
    Screen& screen = desk.screen;
    screen.start({desk.job});
    screen.tap("room.r-cafe");
    for (int i = 0; i < 3; ++i) {
        screen.tap("room.add");
        screen.tap("room.new.tap.0");
        REQUIRE(screen.waits_for_text("kept", "Saved"));
    }
    screen.tap("room.add");  // and the fourth is not touched any more
    screen.kill();
    CHECK(desk.program({"verify", desk.job}).status == 0);
    CHECK(desk.exported().find("points").list()->size() == before + 3);
}

TEST_CASE("from nothing: a new job is made by touch, and is the first to go on with the next time") {
    Desk desk(either_way());
    Screen& screen = desk.screen;
    screen.start({"--place", "rooms"});
    screen.find("opening.new");
    screen.tap("opening.new");
    screen.tap("rooms.new");
    screen.tap("rooms.add");
    CHECK(screen.waits_for_text("kept", "Room 1 added"));
    screen.close();
    screen.start({"--place", "rooms"});
    screen.tap("opening.recent.0");
    CHECK(screen.waits_for("rooms.new"));
    screen.close();
}

TEST_CASE("a job file is opened from the list of files") {
    Desk desk;
    desk.import_demo();
    Screen& screen = desk.screen;
    screen.start({"--place", "rooms"});
    screen.find("opening.open");
    screen.tap("opening.open");
    screen.find("files.entry.job.tapjob");
    screen.tap("files.entry.job.tapjob");
    CHECK(screen.waits_for("room.r-foyer"));
    screen.close();
}

TEST_CASE("four loudspeakers come to a zone that is in its reserve: it makes room, is read, and the sheet says so") {
    Desk desk;
    desk.import_demo();
    const auto headroom = [&] {
        const Value checked = json_of(desk.program({"check", desk.job, "--json"}));
        for (const Value& zone : *checked.find("zones").list())
            if (*zone.find("id").text() == "z-2") return *zone.find("headroom_w").number();
        return 0.0;
    };
    REQUIRE(headroom() < 0);
    const std::size_t before = desk.exported().find("points").list()->size();
    Screen& screen = desk.screen;
    screen.start({desk.job});
    screen.tap("room.r-cafe");
    CHECK(screen.waits_for_text("strip.headroom", "into the reserve"));
    screen.tap("place.lines");
    screen.find("lines.trials");
    screen.tap("lines.trials");
    screen.tap("trials.new");
    screen.tap("trial.add");
    screen.tap("trial.more.speakers");
    for (int i = 0; i < 3; ++i) {
        screen.find("adding.count.more");
        screen.tap("adding.count.more");
    }
    screen.find("adding.option.level");
    screen.tap("adding.option.level");
    CHECK_MESSAGE(screen.waits_for_text("strip.headroom", "headroom"), screen.text("strip"),
                  screen.text("trial.change.0"));
    screen.tap("trial.real");
    screen.find("trial.real_ask.yes");
    screen.tap("trial.real_ask.yes");
    screen.tap("place.readings");
    screen.tap("readings.add");
    tick_all_steps(screen);
    for (const char* key : {"pad.1", "pad.0", "pad.7", "pad.keep"}) {
        screen.find(key);
        screen.tap(key);
    }
    screen.tap("place.handover");
    screen.find("handover.technician");
    screen.tap("handover.technician");
    CHECK(screen.waits_for("handover.made"));
    screen.close();
    CHECK(headroom() >= -1e-9);
    const Value job = desk.exported();
    CHECK(job.find("points").list()->size() == before + 4);
    CHECK(*job.find("readings").list()->back().find("value").number() == 107);
    std::string sheet;  // with the day in its name
    for (const auto& file : std::filesystem::directory_iterator(desk.folder.path()))
        if (file.path().filename().string().starts_with("job technician ") && file.path().extension() == ".pdf")
            sheet = file.path().string();
    const std::string text = output_of({"pdftotext", "-layout", sheet, "-"}, {"LC_ALL=C.UTF-8"});
    CHECK(text.find("C-232") != std::string::npos);  // the fourth of them
}

TEST_CASE("the job as JSON wrote over the file it had been imported from") {
    Desk desk;
    desk.import_demo();
    const std::string source = desk.folder.file("job.json");
    std::filesystem::copy_file(TAPWRIGHT_SOURCE_DIR "/assets/demo.json", source);
    const std::string before = read_bytes(source);
    Screen& screen = desk.screen;
    screen.start({desk.job, "--place", "handover"});
    for (const char* key : {"handover.json", "handover.csv", "handover.json"}) {
        screen.find(key);
        screen.tap(key);
        REQUIRE(screen.waits_for("handover.made"));
        screen.tap("made.close");
    }
    screen.close();
    CHECK(read_bytes(source) == before);
    std::size_t files = 0, folders = 0;
    for (const auto& entry : std::filesystem::directory_iterator(desk.folder.path())) {
        const std::string name = entry.path().filename().string();
        files += name.starts_with("job 20") && name.ends_with(".json");
        folders += entry.is_directory() && name.starts_with("job tables 20");
    }
    CHECK(files == 2);
    CHECK(folders == 1);
}

TEST_CASE("a photo from a file goes into the job bit for bit, and comes twice without being kept twice") {
    Desk desk;
    desk.import_demo();
    const std::string image = desk.folder.file("door.png");
    Screen& screen = desk.screen;
    screen.start({desk.job, "--picture", image, "--place", "lines"});  // any picture will do
    screen.close();
    REQUIRE(read_bytes(image).starts_with("\x89PNG"));
    const std::size_t before = photos_of(desk.exported());
    screen.start({desk.job});
    screen.tap("room.r-foyer");
    screen.find("room.photos");
    screen.tap("room.photos");
    for (int i = 0; i < 2; ++i) {
        screen.tap("photos.add");
        screen.find("files.entry.door.png");
        screen.tap("files.entry.door.png");
        if (i == 0) CHECK(screen.waits_for_text("header.title", "Photos of Foyer"));
    }
    CHECK(screen.waits_for_text("message.0", "kept once"));
    screen.close();
    CHECK(photos_of(desk.exported()) == before + 1);
    bool same = false;
    for (const auto& file : std::filesystem::directory_iterator(desk.folder.file("photos")))
        same = same || read_bytes(file.path().string()) == read_bytes(image);
    CHECK(same);
}

TEST_CASE("a file that another window holds, and one that is no job, are said in a sentence") {
    Desk desk;
    desk.import_demo();
    desk.screen.start({desk.job});
    CHECK(desk.program({"check", desk.job}).status == 0);  // reading is nobody's harm
    const Ran second = desk.program({"set", desk.job, "z-1", "notes=x"});
    CHECK(second.status == 2);
    CHECK(second.err.find(desk.job) != std::string::npos);
    desk.screen.close();
    const std::string other = desk.folder.file("other.tapjob");
    write_bytes(other, "not a job");
    const Ran refused = desk.program({other, "--picture", desk.folder.file("x.png")});
    CHECK(refused.status == 2);
    CHECK(refused.err.find("other.tapjob") != std::string::npos);
}

TEST_CASE("with nothing to do the window draws nothing and sleeps") {
    Desk desk;
    desk.import_demo();
    desk.screen.start({desk.job});
    const auto ticks = [&] {  // proc(5): utime and stime are fields 14 and 15 of stat, in clock ticks
        const std::string stat = read_bytes("/proc/" + std::to_string(desk.screen.program()) + "/stat");
        std::istringstream fields(stat.substr(stat.rfind(')') + 2));
        std::string field;
        for (int i = 0; i < 11; ++i) fields >> field;
        long user = 0, system = 0;
        fields >> user >> system;
        return user + system;
    };
    ::usleep(500000);
    const long before = ticks();
    ::usleep(3000000);
    // A hundred ticks a second; drawing even ten frames a second in software would take dozens.
    CHECK(ticks() - before <= 3);
}
