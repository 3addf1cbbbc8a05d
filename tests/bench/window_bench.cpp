// The time one frame of the window costs on each of its pages, without the graphics card's part: on the demo job and on
// a made job of 2,000 loudspeakers in 40 zones and 200 rooms.
//
// Printed: processor milliseconds a frame, the median of 60 frames at rest, phone-sized and wide, in English and in the
// pseudo-language. Ends with status 1 when a required figure (docs/benchmarks.md) is missed.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <functional>

#include "tests/bench/made_zones.h"
#include "tests/ui/screens/desk.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"

using namespace tapwright;
using namespace tapwright::tests;
using ui::PlaceId;

namespace {

ChangeList large_job() {
    using test::add;
    ChangeList changes = {test::set(Kind::job, "job", {{"name", "Made job"}}),
                          add(Kind::amplifier, "a1", {{"name", "Amplifier"}, {"rated_w", 20000.0}}),
                          add(Kind::channel, "c1", {{"name", "Output"}, {"amplifier", "a1"}, {"rated_w", 20000.0}}),
                          add(Kind::cable_type, "k1", {{"name", "Pair"}, {"awg", 16.0}}),
                          add(Kind::speaker_type, "t1", {{"name", "Ceiling"}, {"taps_w", List{2.5, 5.0, 10.0}}})};
    bench::append({.zones = 40, .per_zone = 50, .rooms = 200, .limit_w = 400}, changes);
    return changes;
}

struct PageCase {
    const char* name;
    PlaceId place;
    std::function<std::unique_ptr<ui::Screen>(Desk&)> top;  // empty: the place's first page
};

const PageCase pages[] = {
    {"survey", PlaceId::survey, {}},
    {"rooms", PlaceId::rooms, {}},
    {"lines", PlaceId::lines, {}},
    {"readings", PlaceId::readings, {}},
    {"snags", PlaceId::snags, {}},
    {"handover", PlaceId::handover, {}},
    {"room", PlaceId::rooms, [](Desk& d) { return ui::room_screen(d.shared, d.job().all<Room>()[1].id); }},
    {"loudspeaker", PlaceId::rooms, [](Desk& d) { return ui::point_screen(d.shared, d.job().all<Point>()[2].id); }},
    {"walk test", PlaceId::readings, [](Desk& d) { return ui::walk_test_screen(d.shared); }},
    {"history", PlaceId::handover, [](Desk& d) { return ui::history_screen(d.shared); }},
};

double frame_ms(Desk& desk) {
    desk.person->settle();
    std::vector<double> times;
    for (int i = 0; i < 60; ++i) {
        const std::clock_t start = std::clock();
        desk.person->frames(1);
        times.push_back(1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

bool measure(const char* job, const Language& language, const ChangeList& content, double most_ms) {
    bool within = true;
    std::printf("%-12s %10s %10s   required %.0f ms, %s\n", job, "phone", "wide", most_ms,
                std::string(language.code).c_str());
    for (const PageCase& page : pages) {
        std::printf("%-12s", page.name);
        for (const Screen& screen : {Screen{390, 844}, Screen{1280, 800}}) {
            Desk desk(content, screen, page.place);
            desk.person->toolkit->preferences.language = &language;
            if (page.top) desk.open(page.top(desk));
            const double ms = frame_ms(desk);
            within = within && ms <= most_ms;
            std::printf(" %7.2f ms", ms);
        }
        std::printf("\n");
    }
    return within;
}

}  // namespace

int main() {
    doctest::Context context;
    context.setAsDefaultForAssertsOutOfTestCases();
    bool within = true;
    for (const Language* language : {&english(), &pseudo()}) {
        within = measure("demo", *language, demo_changes(), 2) && within;
        within = measure("2,000", *language, large_job(), 4) && within;
    }
    return within ? 0 : 1;
}
