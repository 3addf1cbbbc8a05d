// "Find the fault": from what does not fit to what was found and recorded, with the window alone; ten broken lines of
// the demo, whose truth is a full set of equations.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "core/calc/wiring.h"
#include "core/faults/next_measurement.h"
#include "core/words/faults_text.h"
#include "tests/faults/dense_line.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace fault_page {
namespace {

bool tells(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

void touch(Person& person, const std::string& mark) {
    person.find(mark);
    person.tap(mark);
}

void enter_on_pad(Person& person, std::string_view figure) {
    for (const char key : figure) person.tap(std::string("pad.") + (key == '.' ? "point" : std::string(1, key)));
    person.tap("pad.keep");
}

std::string as_typed(double figure) {
    char text[32];
    std::snprintf(text, sizeof text, "%.4g", figure);
    return text;
}

struct Site : Desk {
    explicit Site(PlaceId place = PlaceId::readings) : Desk(Start::demo, {}, place) {}

    void make(const ChangeList& changes) {
        const auto made = session->request(test::command(changes), {"Ada Quill", {}}, clock.next());
        REQUIRE_MESSAGE(made.ok(), (made ? "" : in_english(made.refusal().message)));
        person->settle();
    }
    // As if nobody had walked through with the music on.
    void unhear() {
        ChangeList changes;
        for (const Point& point : job().all<Point>())
            if (point.heard) changes.push_back(test::set(Kind::point, point.id.text(), {{"heard", Value()}}));
        for (const Snag& snag : job().all<Snag>()) changes.push_back({ChangeOp::remove, Kind::snag, snag.id, {}});
        make(changes);
    }
    // Whatever is in a row of causes, bars and keys.
    std::string all_said() const {
        std::string said;
        for (const ui::Mark& mark : person->toolkit->marks().all())
            if (mark.name.starts_with("fault.")) said += mark.text + "\n";
        return said;
    }
};

Diagnosis diagnosed(const Desk& desk, const Id& zone) {
    FaultQuestion question;
    question.zone = zone;
    Result<Diagnosis> diagnosis = Diagnosis::of(desk.job(), desk.derived(), question);
    REQUIRE(diagnosis.ok());
    return std::move(*diagnosis);
}

std::vector<Measurement> next_of(const Desk& desk, const Diagnosis& diagnosis) {
    NextMeasurement search(desk.job(), diagnosis, {});
    while (search.step()) {
    }
    return search.best();
}

}  // namespace

TEST_CASE("from the Foyer's reading to C-104 recorded takes two touches, and one undo takes it back") {
    Site desk;
    Person& person = *desk.person;
    const std::size_t snags = desk.job().all<Snag>().size();
    const int before = person.touches();
    person.tap("readings.find.z-1");
    CHECK(person.text("header.title") == "Find the fault: Foyer");
    CHECK(tells(person.text("fault.seen"), "Foyer 138 Ω (baseline 121 Ω)"));
    CHECK(tells(person.text("fault.seen"), "Silent: C-104."));
    CHECK(person.text("fault.cause.0").starts_with("63 %, C-104 draws nothing"));
    CHECK(tells(person.text("fault.line.point.s-104"), "suspect, 99 %"));
    CHECK_FALSE(person.has("fault.next"));
    CHECK(person.text("fault.record.0") == "Record: C-104 dead");
    CHECK(person.text("fault.record.1") == "Record: run to C-104 open");
    CHECK(desk.faults_down_the_page().empty());
    CHECK(desk.job().all<Snag>().size() == snags);  // a proposal until it is touched
    person.tap("fault.record.0");
    CHECK(person.touches() - before == 2);
    const auto text_of_snag = [&](const Job& job) {
        for (const Snag& snag : job.all<Snag>())
            if (snag.about == desk.id("C-104")) return *snag.text;
        return std::string();
    };
    const std::string noted = text_of_snag(desk.job());
    CHECK(tells(noted, "silent since the summer"));  // what was noted before stays
    CHECK(tells(noted, "C-104 draws nothing"));
    // It is not recorded twice; once it is put right the line is read again from here.
    CHECK_FALSE(person.has("fault.record.0"));
    CHECK(tells(person.text("fault.noted.0"), "C-104 dead"));
    CHECK(person.text("fault.read") == "One reading at Foyer");
    person.tap("app.undo");
    CHECK_FALSE(tells(text_of_snag(desk.job()), "draws nothing"));
    CHECK(person.has("fault.record.0"));
}

TEST_CASE("without the walk test the page asks, and one touch of what was heard brings the new chances") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    person.tap("readings.find.z-1");
    CHECK(tells(person.text("fault.verdict"), "Not settled yet"));
    const std::vector<Measurement> next = next_of(desk, diagnosed(desk, Id("z-1")));
    REQUIRE(next.front().asked == Asked::heard);
    const std::string asked = *desk.job().find<Point>(next.front().at)->label;
    CHECK(tells(person.text("fault.next"), asked));
    CHECK(person.text("fault.plays") == asked + " plays");
    CHECK(person.text("fault.silent") == asked + " silent");
    CHECK(tells(person.text("fault.expected.0"), "dead"));
    person.find("fault.all");
    CHECK(tells(person.text("fault.others"), "Other causes"));
    const int before = person.touches();
    person.tap("fault.plays");
    CHECK(person.touches() - before == 1);
    CHECK(desk.point(asked).heard == Heard::ok);
    for (std::size_t i = 0; person.has("fault.cause." + std::to_string(i)); ++i)
        CHECK_FALSE(tells(person.text("fault.cause." + std::to_string(i)), asked + " draws nothing"));
    // What was heard silent, and plays by now, is told in one touch as well.
    desk.make({test::set(Kind::point, desk.id(asked).text(), {{"heard", "silent"}})});
    CHECK(tells(person.text("fault.cause.0"), asked));
    touch(person, "fault.heard." + desk.id(asked).text());
    CHECK(desk.point(asked).heard == Heard::ok);
}

TEST_CASE("once J-110 reads as it should nothing behind it is suspected on the page") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    desk.make({test::add(Kind::reading, "",
                         {{"at", "j-110"},
                          {"quantity", "ohms"},
                          {"value", 204.0},
                          {"isolated", true},
                          {"time", "2025-10-14T09:40:00+02:00"}})});
    person.tap("readings.find.z-1");
    CHECK(tells(person.text("fault.seen"), "J-110 204 Ω"));
    if (person.has("fault.all")) touch(person, "fault.all");
    const std::string said = desk.all_said();
    for (const char* behind : {"C-105", "C-106", "C-107", "C-108", "C-109", "C-111", "C-112"})
        for (const char* what : {" draws nothing", " is on its"}) CHECK_FALSE(tells(said, behind + std::string(what)));
    CHECK(tells(said, "C-104 draws nothing"));
}

TEST_CASE("the Old wing's three untraced loudspeakers are proposed, and put on the line in one step and one undo") {
    Site desk;
    Person& person = *desk.person;
    touch(person, "readings.find.z-7");
    CHECK(tells(person.text("fault.cause.0"), "L-235, L-236 and L-237 are on this line"));
    touch(person, "fault.cause.0");
    person.find("fault.record");
    CHECK(person.text("fault.record") == "Record: L-235, L-236 and L-237 on this line");
    CHECK(tells(person.text("fault.explains.0"), "153 Ω read"));
    person.tap("fault.record");
    const Job& job = desk.job();
    for (const char* label : {"L-235", "L-236", "L-237"}) CHECK(job.find<Point>(desk.id(label))->fed_from == Id("z-7"));
    CHECK_FALSE(tells(person.text("fault.cause.0"), "L-235"));  // they are on it, and what they are on is sought
    CHECK(desk.faults_down_the_page().empty());
    person.tap("app.undo");
    for (const char* label : {"L-235", "L-236", "L-237"}) CHECK_FALSE(desk.point(label).fed_from.has_value());
    CHECK(tells(person.text("fault.cause.0"), "L-235, L-236 and L-237"));
    CHECK_FALSE(desk.job_on_disk().find<Point>(desk.id("L-235"))->fed_from.has_value());
}

TEST_CASE("what does not fit leads to the page: readings, the pad, a silent loudspeaker, load nobody recorded") {
    Site desk;
    Person& person = *desk.person;
    const auto is_there = [&](const char* zone) {
        CHECK(person.text("header.title") == "Find the fault: " + std::string(zone));
        person.press(ImGuiKey_Escape);
    };
    person.tap("readings.zone.z-1");
    touch(person, "at.find");
    is_there("Foyer");
    // A reading that fits has no such key; one that does not has it on the pad, and saves it first.
    desk.open(ui::readings_at_screen(desk.shared, Id("z-3")));
    CHECK_FALSE(person.has("at.find"));
    person.tap("at.add");
    work_through(person, "caution");
    person.type("60");
    person.find("entry.search");
    const std::size_t readings = desk.job().all<Reading>().size();
    person.tap("entry.search");
    CHECK(desk.job().all<Reading>().size() == readings + 1);
    is_there("Great hall");
    touch(person, "at.find");
    is_there("Great hall");
    desk.open(ui::point_screen(desk.shared, desk.id("C-104")));
    touch(person, "point.find_silent");
    is_there("Foyer");
    desk.open(ui::point_screen(desk.shared, desk.id("C-103")));
    CHECK_FALSE(person.has("point.find_silent"));
    desk.open(ui::walk_test_screen(desk.shared, desk.id("Foyer")));
    touch(person, "walk.find.z-1");
    is_there("Foyer");
    desk.shared.zone = Id("z-7");
    desk.open(ui::lines_screen(desk.shared));
    person.tap("strip");
    touch(person, "load.find");
    is_there("Old wing");
}

TEST_CASE("where there is nothing to go by the page says what to do, and on a fire line nothing is sought") {
    Site desk;
    Person& person = *desk.person;
    desk.open(ui::find_fault_screen(desk.shared, Id("z-9")));
    CHECK(person.has("fault.verdict"));  // a baseline alone: it is right
    CHECK(tells(person.text("fault.verdict"), "nothing is wrong"));
    desk.open(ui::find_fault_screen(desk.shared, Id("z-8")));  // nothing was read, nothing is connected
    CHECK(person.has("fault.problem"));
    CHECK(person.text("fault.read") == "One reading at Workshop");
    // Readings that contradict each other and the record.
    desk.make(
        {test::add(Kind::reading, "", {{"at", "z-1"}, {"quantity", "ohms"}, {"value", 15.0}, {"isolated", true}}),
         test::add(Kind::reading, "", {{"at", "j-110"}, {"quantity", "ohms"}, {"value", 9000.0}, {"isolated", true}}),
         test::add(Kind::reading, "", {{"at", "s-101"}, {"quantity", "ohms"}, {"value", 700.0}, {"isolated", true}})});
    desk.open(ui::find_fault_screen(desk.shared, Id("z-1")));
    CHECK(tells(person.text("fault.verdict"), "No cause known here explains all of it"));
    CHECK(tells(person.text("fault.unexplained"), "Something else"));
    CHECK(desk.faults_down_the_page().empty());
    desk.make({test::set(Kind::zone, "z-1", {{"emergency", "yes"}})});
    CHECK(person.has("fault.stop"));
    CHECK_FALSE(person.has("fault.read"));
}

TEST_CASE("every key of the page is reached by keyboard, and says what it is") {
    Site desk;
    Person& person = *desk.person;
    desk.unhear();
    desk.open(ui::find_fault_screen(desk.shared, Id("z-1")));
    const ui::Mark bar = person.mark("fault.cause.0");
    CHECK(bar.role == ui::Role::row);
    CHECK(tells(bar.said(), "%"));
    bool reaches_bar = false, reaches_key = false;
    for (int i = 0; i < 40; ++i) {
        person.press(ImGuiKey_Tab);
        reaches_bar |= person.focused() == "fault.cause.0";
        reaches_key |= person.focused() == "fault.silent";
        if (person.focused() == "fault.silent") break;
    }
    for (int i = 0; i < 40 && !reaches_bar; ++i) {
        person.press(ImGuiKey_Tab);
        reaches_bar |= person.focused() == "fault.cause.0";
    }
    CHECK(reaches_key);
    CHECK(reaches_bar);
    for (int i = 0; i < 40 && person.focused() != "fault.cause.0"; ++i) person.press(ImGuiKey_Tab);
    person.press(ImGuiKey_Enter);
    CHECK(person.has("fault.record"));
    person.settle();
    CHECK(person.toolkit->next_frame_in() != 0);  // at rest no frame is drawn
}

// ---- ten broken lines, walked with the page alone ----

namespace {

enum class Break : std::uint8_t { dead, open_run, tap, bypass, joint };

struct Broken {
    const char* zone;
    const char* at;
    Break what;
    double value;  // W of the tap, Ω of the setting or the joint
};

constexpr Broken broken_lines[] = {
    {"z-1", "C-107", Break::dead, 0},     {"z-1", "C-105", Break::open_run, 0}, {"z-1", "C-109", Break::tap, 10},
    {"z-1", "C-102", Break::bypass, 8},   {"z-1", "J-110", Break::joint, 160},  {"z-3", "W-153", Break::dead, 0},
    {"z-3", "W-155", Break::open_run, 0}, {"z-3", "W-154", Break::tap, 30},     {"z-6", "C-222", Break::dead, 0},
    {"z-6", "C-224", Break::open_run, 0},
};

// The line as it really is: every loudspeaker and all of them together a little off, as their baseline was.
class RealLine {
public:
    RealLine(const Desk& desk, const Broken& broken) : job_(desk.job()), wiring_(wire(desk.job())) {
        const WiredZone& zone = wiring_.zones[*job_.place<Zone>(Id(broken.zone))];
        nodes_.assign(job_.all<Point>().size(), 0);
        for (std::uint32_t i = zone.first; i < zone.last; ++i) {
            const std::uint32_t place = wiring_.order[i];
            const WiredPoint& point = wiring_.points[place];
            nodes_[place] = line_.nodes.size();
            test::DenseNode node;
            node.feed = point.feed == nowhere ? 0 : static_cast<int>(nodes_[point.feed]);
            node.run = std::max(point.run_ohm, 1e-6);
            node.load = point.connected ? point.draw.siemens * (1 + 0.02 * ((i * 7) % 5 - 2.0) / 2) : 0;
            line_.nodes.push_back(node);
        }
        healthy_ = 1 / line_.siemens(0);
        test::DenseNode& node = line_.nodes[nodes_[*job_.place<Point>(desk.id(broken.at))]];
        const double tap = job_.find<Point>(desk.id(broken.at))->tap_w.value_or(Watts(1)).value();
        switch (broken.what) {
            case Break::dead:
                node.load = 0;
                break;
            case Break::open_run:
                node.run = std::numeric_limits<double>::infinity();
                break;
            case Break::tap:
                node.load *= broken.value / tap;
                break;
            case Break::bypass:
                node.load = 1 / broken.value;
                break;
            case Break::joint:
                node.run += broken.value;
                break;
        }
    }

    // What a meter shows: what the line's baseline was off by, it is still.
    double ohms(const Id& at, double baseline) const {
        const auto point = job_.place<Point>(at);
        const double siemens = line_.siemens(point ? nodes_[*point] : 0);
        return siemens > 1e-7 ? baseline / healthy_ / siemens : std::numeric_limits<double>::infinity();
    }
    bool is_silent(const Id& at) const {
        const std::size_t node = nodes_[*job_.place<Point>(at)];
        return line_.nodes[node].load == 0 || line_.volts(0, node) < 1e-6;
    }

private:
    const Job job_;
    const Wiring wiring_;
    test::DenseLine line_;
    std::vector<std::size_t> nodes_;  // by point
    double healthy_ = 0;
};

double baseline_of(const Job& job, const Id& zone) {
    for (const Reading& reading : job.all<Reading>())
        if (reading.at == zone && reading.baseline.value_or(false)) return *reading.value;
    return 0;
}

// Types what the meter shows.
void read_there(Person& person, double ohms) {
    if (person.has("caution.done")) work_through(person, "caution");
    if (std::isinf(ohms)) {
        person.find("entry.state.0");
        person.tap("entry.state.0");
    }
    enter_on_pad(person, std::isinf(ohms) ? "20000" : as_typed(ohms));
}

// One step by the page's own key. Returns: the causes it proposes to record; empty while it goes on.
std::string step(Site& desk, const Broken& broken, const RealLine& line, double baseline) {
    Person& person = *desk.person;
    if (person.has("fault.record.0"))
        return person.text("fault.record.0") + (person.has("fault.record.1") ? person.text("fault.record.1") : "");
    // What was looked at was otherwise than recorded, and the record is corrected: the line is read anew.
    if (person.has("fault.outdated")) return person.text("kept");
    // The page asks for what the search says, no more and no less.
    const Diagnosis diagnosis = diagnosed(desk, Id(broken.zone));
    const std::vector<Measurement> next = next_of(desk, diagnosis);
    if (next.empty()) return person.text("fault.cause.0");
    const Measurement& first = next.front();
    CHECK(person.text("fault.next") == in_english(text_of(desk.job(), first)));
    CHECK(person.has("fault.expected.0"));
    if (first.asked == Asked::heard) {
        person.tap(line.is_silent(first.at) ? "fault.silent" : "fault.plays");
    } else if (first.asked == Asked::tap_w) {
        person.tap("fault.look");
        const Point& point = *desk.job().find<Point>(first.at);
        std::vector<Watts> taps = *desk.job().find<SpeakerType>(*point.type)->taps_w;
        std::sort(taps.begin(), taps.end());
        const bool is_it = point.label == broken.at;
        const double tap = is_it && broken.what == Break::tap ? broken.value : point.tap_w->value();
        const auto place = std::find(taps.begin(), taps.end(), Watts(tap)) - taps.begin();
        touch(person,
              is_it && broken.what == Break::bypass ? "fault.tap.bypass" : "fault.tap." + std::to_string(place));
        desk.person->settle();
    } else {
        REQUIRE_FALSE(first.turned);
        person.tap("fault.measure");
        read_there(person, line.ohms(first.at, baseline));
    }
    return {};
}

// The label itself, or a neighbour of it.
bool is_near(const Desk& desk, const std::string& said, const std::string& label) {
    if (tells(said, label)) return true;
    const Id at = desk.id(label);
    for (const Point& point : desk.job().all<Point>()) {
        const bool is_next = point.fed_from == at || desk.job().find<Point>(at)->fed_from == point.id;
        if (is_next && tells(said, *point.label)) return true;
    }
    return false;
}

}  // namespace

TEST_CASE("ten broken lines of the demo are walked to their fault with the page of a phone alone") {
    int steps = 0;
    for (const Broken& broken : broken_lines) {
        CAPTURE(broken.zone);
        CAPTURE(broken.at);
        Site desk;
        Person& person = *desk.person;
        desk.unhear();
        const double baseline = baseline_of(desk.job(), Id(broken.zone));
        const RealLine line(desk, broken);
        desk.open(ui::readings_at_screen(desk.shared, Id(broken.zone)));
        person.tap("at.add");
        read_there(person, line.ohms(Id(broken.zone), baseline));
        desk.open(ui::find_fault_screen(desk.shared, Id(broken.zone)));
        std::string found;
        int here = 0;
        for (; found.empty() && here < 12; ++here) found = step(desk, broken, line, baseline);
        steps += here - 1;
        CAPTURE(found);
        CHECK(is_near(desk, found, broken.at));
    }
    MESSAGE("steps for ten lines: " << steps);
    CHECK(steps <= 60);
}

}  // namespace fault_page
