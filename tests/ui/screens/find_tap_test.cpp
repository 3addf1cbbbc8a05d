// A loudspeaker in a ceiling that cannot be opened: its tap is found with the meter, from two readings of its zone.
#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;

namespace {

// 70.7 V, three on 5 W, an attenuator, and S-4, that was there before and whose tap nobody knows.
ChangeList line_with_unknown() {
    ChangeList made = {
        test::set(Kind::job, "job", {{"name", "Mill House"}, {"line_v", 70.7}}),
        test::add(Kind::zone, "z1", {{"name", "Hall"}, {"limit_w", 100.0}, {"emergency", "no"}}),
        test::add(Kind::speaker_type, "t1",
                  {{"name", "Ceiling"}, {"taps_w", List{2.5, 5.0, 10.0, 20.0}}, {"taps_v", 70.7}}),
        test::add(Kind::attenuator_type, "a1",
                  {{"name", "Wall"}, {"rated_w", 50.0}, {"steps_db", List{0.0, -3.0, -6.0}}}),
        test::add(Kind::point, "v1", {{"kind", "attenuator"}, {"label", "V-1"}, {"fed_from", "z1"}, {"type", "a1"}})};
    for (const char* label : {"s1", "s2", "s3"})
        made.push_back(test::add(Kind::point, label,
                                 {{"kind", "speaker"},
                                  {"label", label},
                                  {"fed_from", "z1"},
                                  {"type", "t1"},
                                  {"tap_w", 5.0},
                                  {"state", "fitted"},
                                  {"origin", "existing"}}));
    made.push_back(test::add(Kind::point, "s4",
                             {{"kind", "speaker"},
                              {"label", "S-4"},
                              {"fed_from", "v1"},
                              {"type", "t1"},
                              {"state", "fitted"},
                              {"origin", "existing"}}));
    return made;
}

// Their figures: 15 W and what S-4 draws, V^2 / W.
constexpr const char* with_ten = "199.9";    // 25 W
constexpr const char* without_it = "333.2";  // 15 W

void read_on_pad(Person& person, const char* key, const char* figure, bool full = true) {
    person.find(key);
    person.tap(key);
    if (person.has("caution.done")) work_through(person, "caution", full);
    person.type(figure);
    person.tap("pad.keep");
}

bool tells(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

struct Site : Desk {
    Site() : Desk(line_with_unknown(), {}, ui::PlaceId::rooms) {
        open(ui::point_screen(shared, Id("s4")));
        person->find("point.find_tap");
        person->tap("point.find_tap");
    }
    const Zone& zone() const { return *job().find<Zone>(Id("z1")); }
};

}  // namespace

TEST_CASE("a tap that nobody can see is found from a reading with it and one without, and recorded as found") {
    Site desk;
    Person& person = *desk.person;
    CHECK_FALSE(person.has("find_tap.without"));  // one after the other
    const int before = person.touches();
    read_on_pad(person, "find_tap.with", with_ten);
    REQUIRE(desk.job().all<Reading>().size() == 1);
    CHECK(desk.derived().readings[0].is_valid);
    CHECK(desk.zone().disconnected == true);
    // It was read with, so what it draws is inside what nobody recorded: 25 W, 15 W of them known.
    CHECK(desk.derived().zones[0].margin.unrecorded.value() == doctest::Approx(10).epsilon(0.01));
    person.tap("find_tap.without");
    CHECK(tells(person.text("caution.0"), "Amplifier off"));
    CHECK(tells(person.text("caution.1"), "still disconnected"));
    work_through(person, "caution");
    CHECK(tells(person.text("entry.band"), "333"));  // held against the record without it
    CHECK(person.text("entry.state.1").ends_with(", chosen"));
    person.type(without_it);
    CHECK(person.text("entry.verdict") == "Matches record");
    person.tap("pad.keep");
    // The line was not as recorded: nothing of it is kept.
    CHECK(desk.job().all<Reading>().size() == 1);
    CHECK(tells(person.text("find_tap.said"), "Of its taps only 10 W fits"));
    CHECK(tells(person.text("find_tap.said"), "±"));
    person.find("find_tap.back");
    CHECK(tells(person.text("find_tap.back"), "Connect S-4 again"));
    person.tap("find_tap.record");
    CHECK(person.touches() - before == 16);
    // Recorded in one step, and the line is put back from here.
    work_through(person, "find_tap.reconnect.z1");
    CHECK_FALSE(desk.zone().disconnected.has_value());
    person.press(ImGuiKey_Escape);
    CHECK(person.has("point.tap.0"));
    CHECK(tells(person.text("point.find_tap"), "check its tap"));
    CHECK(desk.faults_down_the_page().empty());
    const Job job = desk.job_on_disk();
    const Point& point = *job.find<Point>(Id("s4"));
    CHECK(point.tap_w == Watts(10));
    CHECK(point.found_w == Watts(10));
    CHECK(point.found_by == job.all<Reading>()[0].id);
    REQUIRE(job.all<Reading>().size() == 2);
    CHECK(job.all<Reading>()[1].quantity == Measured::tap_w);
    CHECK(job.all<Reading>()[1].at == Id("s4"));
    CHECK(desk.derived().zones[0].margin.unrecorded.value() == doctest::Approx(0).epsilon(0.05));
}

TEST_CASE("figures that do not tell propose no tap: two fit, or none does") {
    Site desk;
    Person& person = *desk.person;
    read_on_pad(person, "find_tap.with", "249.9");  // 20 W: 5 W of S-4, and 3 % of 20 and of 15 W are 0.75 W
    read_on_pad(person, "find_tap.without", without_it);
    CHECK(tells(person.text("find_tap.said"), "only 5 W fits"));
    CHECK(person.has("find_tap.record"));
    // With it again; that nobody says that the line is disconnected is told, and the figure is not used.
    read_on_pad(person, "find_tap.with_again", "264.5");
    CHECK(tells(person.text("find_tap.with_said"), "is not used: not noted"));
    CHECK(tells(person.text("find_tap.said"), "only 5 W fits"));
    // 3.9 W, and twice 0.72 W more or less.
    person.find("find_tap.with_again");
    person.tap("find_tap.with_again");
    person.tap("entry.state.1");
    person.tap("entry.state.3");
    person.type("264.5");
    person.tap("pad.keep");
    CHECK_FALSE(person.has("find_tap.with_said"));
    CHECK(tells(person.text("find_tap.said"), "2.5 W and 5 W fit"));
    CHECK(tells(person.text("find_tap.said"), "better meter"));
    CHECK_FALSE(person.has("find_tap.record"));
    CHECK(desk.faults_down_the_page().empty());
    // Without it again, the same figure: it drew nothing.
    person.find("find_tap.without_again");
    read_on_pad(person, "find_tap.without_again", "264.5");
    CHECK(tells(person.text("find_tap.said"), "None of its taps fits"));
    CHECK_FALSE(person.has("find_tap.record"));
    CHECK_FALSE(desk.point("S-4").tap_w.has_value());
}

TEST_CASE("two readings that were not taken alike say why they are not compared") {
    Site desk;
    Person& person = *desk.person;
    read_on_pad(person, "find_tap.with", with_ten);
    // Nobody says that both conductors are disconnected.
    person.tap("find_tap.without");
    work_through(person, "caution");
    person.tap("entry.state.1");
    person.type(without_it);
    person.tap("pad.keep");
    CHECK(tells(person.text("find_tap.said"), "Not noted that both conductors were disconnected"));
    CHECK_FALSE(person.has("find_tap.record"));
    // Attenuators elsewhere than for the first one.
    person.find("find_tap.without_again");
    person.tap("find_tap.without_again");
    work_through(person, "caution");
    CHECK(person.text("entry.state.2").ends_with(", chosen"));  // full, as for the first
    person.tap("entry.state.2");
    REQUIRE(desk.session
                ->request(test::command({test::set(Kind::point, "v1", {{"knob_db", -6.0}})}), {"Ada Quill", {}},
                          desk.clock.next())
                .ok());
    person.settle();
    person.type(without_it);
    person.tap("pad.keep");
    CHECK(tells(person.text("find_tap.said"), "attenuator position"));
    CHECK_FALSE(person.has("find_tap.record"));
}

TEST_CASE("an older reading with it is used where somebody says so") {
    Site desk;
    Person& person = *desk.person;
    REQUIRE(desk.session
                ->request(test::command({test::add(Kind::reading, "old",
                                                   {{"at", "z1"},
                                                    {"quantity", "ohms"},
                                                    {"value", 199.9},
                                                    {"isolated", true},
                                                    {"time", "2019-03-04T09:00:00+00:00"}})}),
                          {"Ada Quill", {}}, desk.clock.next())
                .ok());
    person.settle();
    CHECK(person.has("find_tap.with"));
    CHECK_FALSE(person.has("find_tap.without"));
    person.find("find_tap.use");
    person.tap("find_tap.use");
    CHECK(person.has("find_tap.without"));
}

TEST_CASE("a known tap is checked, an unknown one sought; neither on a fire line, or where no zone is traced") {
    Desk desk(Start::demo);
    Person& person = *desk.person;
    desk.open(ui::point_screen(desk.shared, desk.id("C-101")));
    CHECK(tells(person.text("point.find_tap"), "check its tap"));
    desk.open(ui::point_screen(desk.shared, desk.id("L-232")));  // recorded, but nobody has looked
    CHECK(tells(person.text("point.find_tap"), "find its tap"));
    desk.open(ui::point_screen(desk.shared, desk.id("L-231")));  // looked at
    CHECK(tells(person.text("point.find_tap"), "check its tap"));
    desk.open(ui::point_screen(desk.shared, desk.id("L-235")));  // not traced
    CHECK_FALSE(person.has("point.find_tap"));
    desk.open(ui::find_tap_screen(desk.shared, desk.id("L-235")));  // not traced
    CHECK(tells(person.text("find_tap.problem"), "L-235 is on no zone yet"));
    CHECK_FALSE(person.has("find_tap.with"));
    REQUIRE(desk.session
                ->request(test::command({test::set(Kind::zone, "z-7", {{"emergency", "yes"}})}), {"Ada Quill", {}},
                          desk.clock.next())
                .ok());
    desk.open(ui::find_tap_screen(desk.shared, desk.id("L-232")));
    CHECK(tells(person.text("find_tap.stop"), "qualified people"));
    CHECK_FALSE(person.has("find_tap.with"));
}
