// The longest frame of the window while long work is done, on a made job of 10,000 loudspeakers in 100 zones and 500
// rooms: opening a loudspeaker's page and the sheet of taps, a trial and what is to be added to it, finding, a line.
//
// Printed: processor milliseconds of the longest frame of each, what is settled after it included, without the graphics
// card's part; the least of five runs, phone-sized and wide. Ends with status 1 when one is over 16 ms
// (docs/benchmarks.md).
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cstdio>
#include <functional>

#include "tests/bench/made_zones.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/lines/trials.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

constexpr int runs = 5;
constexpr double most_ms = 16;

ChangeList large_job() {
    using test::add;
    ChangeList changes = {
        test::set(Kind::job, "job", {{"name", "Made job"}}),
        add(Kind::amplifier, "a1", {{"name", "Amplifier"}, {"rated_w", 60000.0}}),
        add(Kind::channel, "c1", {{"name", "Output"}, {"amplifier", "a1"}, {"rated_w", 60000.0}}),
        add(Kind::cable_type, "k1", {{"name", "Pair"}, {"awg", 16.0}}),
        add(Kind::speaker_type, "t1", {{"name", "Ceiling"}, {"taps_w", List{0.63, 1.25, 2.5, 5.0, 10.0, 20.0}}})};
    bench::append({.zones = 100, .per_zone = 100, .rooms = 500, .limit_w = 550}, changes);
    changes.push_back(add(Kind::trial, "trial",
                          {{"name", "Trial"},
                           {"changes", ui::value_of_changes({test::set(Kind::point, "p10", {{"tap_w", 2.5}}),
                                                             test::set(Kind::point, "p11", {{"tap_w", 2.5}}),
                                                             test::set(Kind::point, "p4000", {{"tap_w", 10.0}})})}}));
    return changes;
}

struct Work {
    const char* name;
    PlaceId place;
    std::function<void(Desk&)> before, go;
};

const Work works[] = {
    {"a loudspeaker's page, six taps",
     PlaceId::rooms,
     {},
     [](Desk& d) { d.open(ui::point_screen(d.shared, Id("p4242"))); }},
    {"sheet of taps for the next one", PlaceId::rooms, [](Desk& d) { d.open(ui::room_screen(d.shared, Id("r7"))); },
     [](Desk& d) { d.person->tap("room.add"); }},
    {"a trial", PlaceId::lines, {}, [](Desk& d) { d.open(ui::trial_screen(d.shared, Id("trial"))); }},
    {"what is to be added to a trial",
     PlaceId::lines,
     {},
     [](Desk& d) { d.open(ui::trial_adding_screen(d.shared, Id("trial"))); }},
    {"finding, a letter typed", PlaceId::rooms, [](Desk& d) { d.open(ui::find_screen(d.shared)); },
     [](Desk& d) { d.person->type("c"); }},
    {"a line opened", PlaceId::rooms, {}, [](Desk& d) { d.person->press(ImGuiMod_Alt | ImGuiKey_3); }},
};

double longest_frame(Desk& desk, const Work& work) {
    double least = 1e9;
    for (int run = 0; run < runs; ++run) {
        if (work.before) work.before(desk);
        desk.person->settle();
        desk.person->longest_frame_ms = 0;
        work.go(desk);
        desk.person->settle();
        least = std::min(least, desk.person->longest_frame_ms);
        while (desk.app->depth() > 1 || ImGui::GetTopMostPopupModal()) desk.person->press(ImGuiKey_Escape);
        desk.person->toolkit->requests().show(work.place);
        desk.person->settle();
    }
    return least;
}

}  // namespace

int main() {
    doctest::Context context;
    context.setAsDefaultForAssertsOutOfTestCases();
    const ChangeList content = large_job();
    bool within = true;
    std::printf("%-34s %10s %10s   required %.0f ms\n", "longest frame", "phone", "wide", most_ms);
    for (const Work& work : works) {
        std::printf("%-34s", work.name);
        for (const Screen& screen : {Screen{390, 844}, Screen{1280, 800}}) {
            Desk desk(content, screen, work.place);
            const double ms = longest_frame(desk, work);
            within = within && ms <= most_ms;
            std::printf(" %7.2f ms", ms);
        }
        std::printf("\n");
    }
    return within ? 0 : 1;
}
