// Ten broken lines of the demo, whose truth is a full set of equations, walked to their fault by what the page says
// alone.
#include <algorithm>
#include <cmath>
#include <limits>

#include "core/calc/wiring.h"
#include "core/words/faults_text.h"
#include "tests/faults/dense_line.h"
#include "tests/ui/screens/fault_site.h"

namespace fault_page {

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
    if (!first.heard.empty()) {
        const auto point_at = [&](std::uint32_t at) { return desk.job().all<Point>()[at].id; };
        const bool all_play = std::none_of(first.heard.begin(), first.heard.end(),
                                           [&](std::uint32_t at) { return line.is_silent(point_at(at)); });
        if (all_play) {
            person.tap("fault.all_play");
        } else {
            const Measurement walk = first;
            person.tap("fault.some_silent");
            for (const std::uint32_t at : walk.heard)
                touch(person, "walk." + point_at(at).text() + (line.is_silent(point_at(at)) ? ".silent" : ".ok"));
            person.tap("header.back");
        }
    } else if (first.asked == Asked::heard) {
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
