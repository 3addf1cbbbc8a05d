// One number for one thing, on the screens too: what the load strip, a point's figures and the list of readings say in
// the window is what the technician's sheet and `check --json` and `solve --json` say, for the demo job and for fifty
// jobs at random.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "tests/oracle/random_story.h"
#include "tests/oracle/voices.h"
#include "tests/ui/screens/desk.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

bool says(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

// "24.7 W (2A)", "61.4 W, as far as recorded", "\u22122.5 W": the figure alone, as the strip has it, which says in
// words what it is of.
std::string figure_in(const std::string& cell) {
    const std::string minus = "\u2212";
    const std::string bare = cell.substr(0, std::min(cell.find(" ("), cell.find(", as far")));
    return bare.starts_with(minus) ? bare.substr(minus.size()) : bare;
}

const document::Table* points_of(const Voices& voices, const std::string& zone) {
    return table_in(voices.technician, "Points of " + zone + " in feed order, attenuators as left");
}

// The page of a line with one zone after another in hand.
class LinePage {
public:
    explicit LinePage(const Voices& voices) : voices_(voices), desk_(voices.changes, {1280, 800}, ui::PlaceId::lines) {}

    // Returns: how many figures were held against one another.
    int agree(std::size_t most_points) {
        int compared = 0;
        const document::Table* zones = table_in(voices_.technician, "Load, limit and headroom");
        REQUIRE(zones);
        for (std::size_t i = 0; i < voices_.check["zones"].size(); ++i) {
            const std::string name = voices_.check["zones"][i]["name"];
            if (!is_unique(voices_.records, "zones", "name", name)) continue;
            CAPTURE(name);
            desk_.shared.zone = Id(voices_.records["zones"][i]["id"].get<std::string>());
            desk_.person->frames(2);
            desk_.person->settle();
            compared += strip_agrees(*zones, name);
            if (const document::Table* points = points_of(voices_, name))
                compared += points_agree(*points, most_points);
        }
        return compared;
    }

private:
    int strip_agrees(const document::Table& zones, const std::string& name) {
        const std::string cell = cell_in(zones, name, "Headroom"), load = cell_in(zones, name, "Load");
        if (cell == "not calculated" || load == "not in watts") return 0;
        const std::string strip = desk_.person->text("strip.headroom");
        CAPTURE(strip);
        if (cell == "unknown") {
            CHECK(says(strip, "not recorded"));
        } else if (says(strip, "over the limit")) {  // the strip then says by how much of the limit, reserve or not
            CHECK(cell.starts_with("\u2212"));
        } else {
            CHECK(strip.starts_with(figure_in(cell)));
            CHECK(says(strip, "into the reserve") == cell.starts_with("\u2212"));
        }
        return 1;
    }

    int points_agree(const document::Table& points, std::size_t most) {
        int compared = 0;
        for (const Json& point : voices_.solve["points"]) {
            const std::string id = point["id"], label = name_in(voices_.records, "points", id, "label");
            const std::string mark = "line.point." + id;
            if (static_cast<std::size_t>(compared) >= most || cell_in(points, label, "Point") != label ||
                !is_unique(voices_.records, "points", "label", label) || !desk_.person->sees(mark))
                continue;
            desk_.person->tap(mark);
            const std::string figures = desk_.person->text("lines.figures");
            if (!figures.starts_with(label)) continue;  // another one lies over it there
            CAPTURE(figures);
            CHECK(says(figures, cell_in(points, label, "Volts")));
            CHECK(says(figures, shown<Volts>(point["volts"])));
            const std::string level = cell_in(points, label, "Level");
            if (!level.empty() && level != "silent") CHECK(says(figures, "level " + level));
            ++compared;
        }
        return compared;
    }

    const Voices& voices_;
    tests::Desk desk_;
};

// The list of readings says what would be accepted at each zone as the verification's limit does, and what was read.
int readings_agree(const Voices& voices) {
    int compared = 0;
    const document::Table* verified = table_in(voices.technician, "What was verified");
    REQUIRE(verified);
    tests::Desk desk(voices.changes, {1280, 2400}, ui::PlaceId::readings);
    for (const Json& zone : voices.check["zones"]) {
        const std::string name = zone["name"], item = "Impedance: " + name;
        const std::string limit = cell_in(*verified, item, "Limit"), result = cell_in(*verified, item, "Result");
        const std::string mark = "readings.zone." + zone["id"].get<std::string>();
        if (limit.empty() || !is_unique(voices.records, "zones", "name", name) || !desk.person->has(mark)) continue;
        const std::string row = desk.person->text(mark);
        CAPTURE(row);
        CHECK(says(row, "(accept " + limit + ")"));
        CHECK(says(row, result.substr(0, std::min(result.find(" (over range)"), result.find(';')))));
        ++compared;
    }
    return compared;
}

}  // namespace

TEST_CASE("the demo job's screens say the same numbers as its sheets, check and solve") {
    const Voices voices(demo_json());
    CHECK(LinePage(voices).agree(5) >= 9 + 9 * 3);
    CHECK(readings_agree(voices) == 8);
}

TEST_CASE("the screens of fifty jobs at random say the same numbers as their sheets, check and solve") {
    int compared = 0;
    int readings = 0;
    int jobs = 0;
    CHECK(rc::check("the same meaning on the screens", [&] {
        if (jobs >= 50) return;
        const Voices voices(with_rare_parts(random_story(6)->exported()));
        compared += LinePage(voices).agree(6);
        readings += readings_agree(voices);
        ++jobs;
    }));
    CHECK(jobs == 50);
    CHECK(compared > 150);
    CHECK(readings > 10);
}
