// What was worked out and is not in the record yet, kept from where Handover lists it: trials and surveys.
#include <doctest/doctest.h>

#include "tests/ui/screens/desk.h"
#include "tests/ui/screens/pages.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

// One fitted loudspeaker, a trial of another tap for it, and a room without a loudspeaker that can be surveyed.
ChangeList job_with_a_trial() {
    const ChangeList tried = {test::set(Kind::point, "p1", {{"tap_w", 2.5}})};
    return {
        test::set(Kind::job, "job", {{"name", "Mill House"}}),
        test::add(Kind::amplifier, "a1", {{"name", "Amplifier"}, {"rated_w", 100.0}}),
        test::add(Kind::channel, "c1", {{"name", "1"}, {"amplifier", "a1"}, {"rated_w", 100.0}}),
        test::add(Kind::zone, "z1", {{"name", "Inside"}, {"channel", "c1"}, {"limit_w", 100.0}, {"emergency", "no"}}),
        test::add(Kind::speaker_type, "t1",
                  {{"name", "Ceiling 6"},
                   {"taps_w", List{2.5, 5.0, 10.0}},
                   {"taps_v", 70.7},
                   {"sens_db", 90.0},
                   {"cone_deg", 120.0},
                   {"mount", "ceiling"}}),
        test::add(Kind::room, "r1", {{"name", "Bar"}}),
        test::add(Kind::room, "r2",
                  {{"name", "Hall"}, {"length_m", 10.0}, {"width_m", 6.0}, {"height_m", 3.0}, {"noise_dba", 60.0}}),
        test::add(Kind::point, "p1",
                  {{"kind", "speaker"},
                   {"label", "L-1"},
                   {"room", "r1"},
                   {"type", "t1"},
                   {"tap_w", 5.0},
                   {"fed_from", "z1"}}),
        test::add(Kind::trial, "v1", {{"name", "Quieter"}, {"changes", ui::value_of_changes(tried)}}),
        test::add(Kind::trial, "v2", {{"name", "Not begun"}, {"changes", List{}}})};
}

void touch(Person& person, const std::string& key) {
    person.find(key);
    person.tap(key);
}

}  // namespace

TEST_CASE("a trial is made real from Handover by its own key, and one undo restores it") {
    for (const Screen& screen : {Screen{390, 844}, Screen{844, 390}, Screen{1280, 800}}) {
        CAPTURE(screen.width);
        Desk desk(job_with_a_trial(), screen, PlaceId::handover);
        Person& person = *desk.person;
        CHECK_FALSE(person.has("handover.trial.v2"));  // nothing is tried in it
        touch(person, "handover.trial.v1.keep");
        CHECK(desk.job().find<Point>(Id("p1"))->tap_w == Watts(5));  // asked first
        person.tap("trial.real_ask.yes");
        CHECK(desk.job().find<Point>(Id("p1"))->tap_w == Watts(2.5));
        CHECK_FALSE(desk.job().find<Trial>(Id("v1")));
        CHECK(desk.app->place() == PlaceId::handover);
        CHECK(desk.app->depth() == 1);
        CHECK_FALSE(person.has("handover.trial.v1"));
        person.tap("app.undo");
        CHECK(desk.job().find<Point>(Id("p1"))->tap_w == Watts(5));
        CHECK(person.has("handover.trial.v1.keep"));
    }
}

TEST_CASE("a trial whose taps are still to be set becomes the plan from Handover, and cancelling changes nothing") {
    Desk desk(job_with_a_trial(), {390, 844}, PlaceId::handover);
    Person& person = *desk.person;
    const std::uint64_t revision = desk.session->revision();
    touch(person, "handover.trial.v1.keep");
    person.tap("trial.real_ask.no");
    CHECK(desk.session->revision() == revision);
    touch(person, "handover.trial.v1.keep");
    person.tap("trial.real_ask.plan");
    CHECK(desk.job().find<Point>(Id("p1"))->tap_w == Watts(5));
    CHECK(desk.job().find<Point>(Id("p1"))->planned_tap_w == Watts(2.5));
}

TEST_CASE("a survey is kept from Handover by its own key, as its page would keep it, and one undo takes it back") {
    Desk desk(job_with_a_trial(), {390, 844}, PlaceId::handover);
    Person& person = *desk.person;
    CHECK_FALSE(person.has("handover.survey.r1"));  // it has its loudspeaker
    const std::string offered = person.text("handover.survey.r2.keep");
    touch(person, "handover.survey.r2");
    CHECK(person.text("survey.keep").substr(0, 10) == offered.substr(0, 10));  // "Plan 2 lou"
    // Another layout there is another one here.
    touch(person, "survey.rule.2");
    const std::string wanted = person.text("survey.keep");
    person.press(ImGuiKey_Escape);
    CHECK(person.text("handover.survey.r2.keep") != offered);
    CHECK(person.text("handover.survey.r2.keep").starts_with(wanted));
    touch(person, "handover.survey.r2.keep");
    std::size_t planned = 0;
    for (const Point& point : desk.job().all<Point>()) planned += point.room == Id("r2") && point.planned_tap_w;
    CHECK(wanted == "Plan " + std::to_string(planned) + " loudspeakers");
    CHECK_FALSE(person.has("handover.survey.r2"));
    CHECK(desk.app->depth() == 1);
    person.tap("app.undo");
    CHECK(desk.job().count(Kind::point) == 1);
    CHECK(person.has("handover.survey.r2.keep"));
}

TEST_CASE("what may be kept is whole on the page at every size") {
    for (const Screen& screen : {Screen{320, 568}, Screen{390, 844, 2, true}, Screen{844, 390}, Screen{820, 1180}}) {
        Desk desk(job_with_a_trial(), screen, PlaceId::handover);
        desk.person->toolkit->preferences.language = screen.width < 400 ? &pseudo() : &english();
        desk.person->settle();
        for (const std::string& fault : desk.faults_down_the_page()) FAIL_CHECK(screen.width, ": ", fault);
        desk.person->find("handover.trial.v1.keep");
        desk.person->tap("handover.trial.v1.keep");
        for (const std::string& fault : desk.faults()) FAIL_CHECK(screen.width, ": ", fault);
    }
}
