// survey, trial and fit through the real program: the keys of the contract, the figures of a small job worked by hand,
// and what is said of input that cannot be answered.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "core/job/json.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// A zone of 100 W with ten loudspeakers on 5 W, a room of 9 by 6 m, and a type that looks down.
class OldSite {
public:
    OldSite() {
        write("job.json", job());
        REQUIRE(run({"import", path("job.json"), file}).status == 0);
        before_ = read_bytes(file);
    }
    Ran run(std::vector<std::string> arguments) const {
        return tapwright::test::tapwright(folder_.path().string(), arguments);
    }
    Value json(int status, std::vector<std::string> arguments) const {
        arguments.push_back("--json");
        const Ran ran = run(arguments);
        REQUIRE_MESSAGE(ran.status == status, ran.out << ran.err);
        CHECK(read_bytes(file) == before_);
        return json_of(ran);
    }
    // Status 2, one sentence that holds `said`, and not a byte changed.
    void refused(std::vector<std::string> arguments, const std::string& said) const {
        const Ran ran = run(arguments);
        CAPTURE(ran.err);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err.starts_with("tapwright: "));
        CHECK(ran.err.ends_with(".\n"));
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        CHECK(ran.err.find(said) != std::string::npos);
        CHECK(read_bytes(file) == before_);
    }
    // Sets a field for what follows.
    void set(const std::string& id, const std::string& field) {
        REQUIRE(run({"set", file, id, field}).status != 2);
        before_ = read_bytes(file);
    }
    std::string write(const std::string& name, const std::string& text) const {
        write_bytes(path(name), text);
        return path(name);
    }
    std::string path(const std::string& name) const { return folder_.file(name); }

private:
    static std::string job() {
        List points;
        std::string feed = "z1";
        for (int i = 1; i <= 10; ++i) {
            const std::string id = "p" + std::to_string(i);
            points.emplace_back(Map{{"id", id},
                                    {"kind", "speaker"},
                                    {"label", "C-" + std::to_string(i)},
                                    {"room", "r1"},
                                    {"fed_from", feed},
                                    {"type", "t1"},
                                    {"tap_w", 5.0}});
            feed = id;
        }
        return pretty_json(
            Map{{"tapwright_job", 1.0},
                {"job", Map{{"name", "OldSite"}}},
                {"rooms", List{Map{{"id", "r1"},
                                   {"name", "Hall"},
                                   {"length_m", 9.0},
                                   {"width_m", 6.0},
                                   {"height_m", 3.0},
                                   {"ear_height_m", 1.2},
                                   {"wanted_dba", 80.0}}}},
                {"amplifiers", List{Map{{"id", "a1"}, {"name", "Amplifier"}, {"rated_w", 500.0}}}},
                {"channels", List{Map{{"id", "c1"}, {"name", "Output"}, {"amplifier", "a1"}}}},
                {"zones", List{Map{{"id", "z1"}, {"name", "Zone"}, {"channel", "c1"}, {"limit_w", 100.0}}}},
                {"speaker_types",
                 List{Map{{"id", "t1"},
                          {"name", "Ceiling"},
                          {"taps_w", List{1.0, 2.5, 5.0, 10.0}},
                          {"sens_db", 90.0},
                          {"cone_deg", 90.0}},
                      Map{{"id", "t2x4"}, {"name", "Low-impedance only"}, {"low_z_ohm", 8.0}, {"taps_w", List{2.5}}}}},
                {"points", std::move(points)},
                {"trials",
                 List{Map{
                     {"id", "tr1"},
                     {"name", "Louder"},
                     {"changes",
                      List{Map{{"op", "set"}, {"kind", "point"}, {"id", "p1"}, {"fields", Map{{"tap_w", 10.0}}}}}}}}}});
    }

    TemporaryFolder folder_;
    std::string before_;

public:
    std::string file = folder_.file("a.tapjob");
};

using Keys = std::vector<std::string>;

}  // namespace

TEST_CASE("survey --json: the keys of the contract, and the figures of a room worked by hand (plane geometry)") {
    const OldSite site;
    const Value made = site.json(0, {"survey", site.file, "r1", "t1"});
    CHECK(keys(made) == Keys{"diameter_m", "layouts", "taps", "tap_w", "watts", "over_db", "uncovered_pct", "beyond_m",
                             "closest_zone", "short_w", "text"});
    CHECK(number(made, "diameter_m") == doctest::Approx(3.6));
    const List& layouts = *made.find("layouts").list();
    REQUIRE(layouts.size() == 6);
    CHECK(keys(layouts[0]) == Keys{"grid", "rule", "spacing_m", "count", "uncovered_pct"});
    CHECK(*layouts[1].find("rule").text() == "gapless");
    CHECK(number(layouts[1], "spacing_m") == doctest::Approx(3.6 / std::sqrt(2.0)));
    CHECK(number(layouts[1], "count") == 12);
    CHECK(*layouts[5].find("grid").text() == "staggered");
    const List& taps = *made.find("taps").list();
    REQUIRE(taps.size() == 4);
    CHECK(keys(taps[0]) == Keys{"tap_w", "one_db", "room_db"});
    CHECK(number(taps[1], "one_db") == doctest::Approx(88.873950));  // 90 + 10 lg 2.5 - 20 lg 1.8
    CHECK(number(made, "tap_w") == 1);
    CHECK(number(made, "watts") == 12);
    CHECK(made.find("text").text()->find("Enough spare for them: Zone (then 18 W spare).") != std::string::npos);
    // Another layout, level and person-readable form.
    CHECK(number(site.json(0, {"survey", site.file, "r1", "t1", "--rule", "double"}), "watts") == 20);
    const Value beyond = site.json(0, {"survey", site.file, "r1", "t1", "--wanted", "120"});
    CHECK(beyond.find("tap_w").is_null());
    CHECK(beyond.find("watts").is_null());
    CHECK(beyond.find("text").text()->find("No tap reaches the wanted 120 dB(A)") != std::string::npos);
    const Ran people = site.run({"survey", site.file, "r1", "t1"});
    CHECK(people.status == 0);
    CHECK(people.out.find("Staggered") != std::string::npos);
}

TEST_CASE("trial --json: before and after as check has them, and what appears; nothing is written") {
    const OldSite site;
    const std::string changes = site.write(
        "changes.json",
        R"([{"op": "add", "kind": "point", "id": "n1", "fields": {"kind": "speaker", "label": "N", "fed_from": "p10",
            "type": "t1", "tap_w": 10}}, {"op": "remove", "kind": "point", "id": "p5"},
            {"op": "set", "kind": "zone", "id": "z1", "fields": {"limit_w": 60}}])");
    const Value made = site.json(0, {"trial", site.file, changes});
    CHECK(keys(made) == Keys{"before", "after", "findings", "to_be_read"});
    for (const char* side : {"before", "after"})
        CHECK(keys(made.find(side)) == Keys{"zones", "channels", "amplifiers", "findings", "readings"});
    const Value before = made.find("before").find("zones").list()->front();
    const Value after = made.find("after").find("zones").list()->front();
    CHECK(made.find("before") == site.json(0, {"check", site.file}));
    CHECK(number(before, "load_w") == 50);
    CHECK(number(after, "load_w") == 55);
    CHECK(number(after, "headroom_w") == -7);
    CHECK(number(after, "speakers") == 10);
    const List& findings = *made.find("findings").list();
    REQUIRE_FALSE(findings.empty());
    CHECK(keys(findings[0]) == Keys{"change", "code", "severity", "at", "text"});
    CHECK(*findings[0].find("change").text() == "appears");
    CHECK(*findings[0].find("code").text() == "zone_into_reserve");
    // As a member, by the id of a kept trial, and for people.
    const std::string wrapped =
        site.write("wrapped.json", R"({"name": "x", "changes": [{"op": "remove", "kind": "point", "id": "p10"}]})");
    CHECK(number(site.json(0, {"trial", site.file, wrapped}).find("after").find("zones").list()->front(), "load_w") ==
          45);
    CHECK(number(site.json(0, {"trial", site.file, "tr1"}).find("after").find("zones").list()->front(), "load_w") ==
          55);
    const Ran people = site.run({"trial", site.file, changes});
    CHECK(people.out.find("  new   ") != std::string::npos);
    CHECK(people.out.ends_with("Nothing was saved.\n"));
    // Where the trial would end in a stop the exit status says so.
    const std::string over =
        site.write("over.json", R"([{"op": "set", "kind": "zone", "id": "z1", "fields": {"limit_w": 30}}])");
    CHECK(site.run({"trial", site.file, over}).status == 1);
}

TEST_CASE("fit --json: ten on 5 W fill 50 of 80 W; four of 10 W want 10 W back (worked by hand)") {
    const OldSite site;
    const Value made = site.json(0, {"fit", site.file, "z1", "--add", "t1x4@10"});
    CHECK(keys(made) == Keys{"options", "text"});
    const List& options = *made.find("options").list();
    REQUIRE(options.size() == 3);
    CHECK(keys(options[0]) == Keys{"aim", "changes", "added", "proven", "load_w", "unrecorded_w", "headroom_w",
                                   "visits", "worst_db", "worst_at", "out_of_reach"});
    CHECK(*options[0].find("aim").text() == "fewest");
    CHECK(*options[1].find("aim").text() == "level");
    CHECK(*options[2].find("aim").text() == "wanted");
    CHECK(number(options[0], "visits") == 3);
    CHECK(number(options[1], "visits") == 4);
    CHECK(number(options[1], "load_w") == 80);
    CHECK(number(options[1], "headroom_w") == 0);
    CHECK(number(options[1], "worst_db") == doctest::Approx(-3.0103));
    const List& changes = *options[1].find("changes").list();
    CHECK(keys(changes.front()) == Keys{"id", "from_w", "to_w"});
    CHECK(number(changes.front(), "from_w") == 5);
    CHECK(number(changes.front(), "to_w") == 2.5);
    const List& added = *options[1].find("added").list();
    REQUIRE(added.size() == 4);
    CHECK(keys(added.front()) == Keys{"type", "tap_w"});
    CHECK(number(added.front(), "tap_w") == 10);
    // --add may stand several times, several may follow one, and a type's id may hold an x.
    for (const std::vector<std::string>& add : {std::vector<std::string>{"--add", "t1x2@10", "--add", "t2x4x2"},
                                                {"--add=t1x2@10", "t2x4x2"},
                                                {"--add", "t1x2@10,t2x4x2"}}) {
        std::vector<std::string> call{"fit", site.file, "z1", "--aim", "fewest"};
        call.insert(call.end(), add.begin(), add.end());
        const Value one = site.json(0, call);
        REQUIRE(one.find("options").list()->size() == 1);
        const Value option = one.find("options").list()->front();
        CHECK(option.find("added").list()->size() == 4);
        CHECK(number(option, "load_w") == 75);
        CHECK(number(option, "visits") == 0);
    }
    // Left as it is, by its label or its id; what is noted and planned stands beside a change.
    const Value left =
        site.json(0, {"fit", site.file, "z1", "--add", "t1x4@10", "--aim", "fewest", "--leave", "C-1", "--leave=p2"});
    const List& kept = *left.find("options").list()->front().find("changes").list();
    REQUIRE(kept.size() == 3);
    for (const Value& change : kept) {
        CHECK(change.find("id") != Value("p1"));
        CHECK(change.find("id") != Value("p2"));
    }
    const Value full = site.json(0, {"fit", site.file, "z1", "--add", "t1x8@10"});
    CHECK(keys(full) == Keys{"missing_w", "missing_at", "would_fit", "text"});
    CHECK(number(full, "missing_w") == 10);  // 80 + 10 x 1 - 80
    CHECK(site.run({"fit", site.file, "z1"}).out.find("no tap has to change") != std::string::npos);
}

TEST_CASE("an option of fit kept as a trial, made real in one batch, and taken back by one undo") {
    const OldSite site;
    const auto ran = [&](int status, std::vector<std::string> arguments) {
        arguments.insert(arguments.begin() + 1, site.file);
        arguments.push_back("--json");
        const Ran made = site.run(arguments);
        REQUIRE_MESSAGE(made.status == status, made.out << made.err);
        return json_of(made);
    };
    const auto load = [&] { return number(ran(0, {"check"}).find("zones").list()->front(), "load_w"); };
    const Value kept = ran(0, {"fit", "z1", "--add", "t1x4@10", "--aim", "level", "--keep", "More", "--person", "Ana"});
    const std::string trial = *kept.find("trial").text();
    CHECK(load() == 50);  // a trial changes nothing
    const Value tried = ran(0, {"trial", trial});
    CHECK(number(tried.find("after").find("zones").list()->front(), "load_w") == 80);
    CHECK(*ran(0, {"trial", trial, "--real", "set", "--person", "Ana"}).find("real").text() == "set");
    CHECK(load() == 80);
    const Ran gone = site.run({"trial", site.file, trial});
    CHECK(gone.status == 2);  // it went with what it became
    // One batch: the latest is Ana's, and one undo brings all back, the trial too.
    REQUIRE(ran(0, {"undo", "--person", "Ana"}).map());
    CHECK(load() == 50);
    CHECK(number(ran(0, {"trial", trial}).find("after").find("zones").list()->front(), "load_w") == 80);
    // As the plan: what is set stays as it is.
    ran(0, {"trial", trial, "--real", "plan"});
    std::size_t planned = 0;
    REQUIRE(site.run({"export", site.file, site.path("out.json")}).status == 0);
    const Value all = *parse_json(read_bytes(site.path("out.json")), "out");
    for (const Value& point : *all.find("points").list()) planned += point.find("planned_tap_w") == Value(2.5);
    CHECK(planned == 4);
    // A file of changes kept, and made real.
    const std::string changes =
        site.write("c.json", R"([{"op": "set", "kind": "point", "id": "p9", "fields": {"tap_w": 1}}])");
    const std::string second = *ran(0, {"trial", changes, "--keep", "Softer"}).find("trial").text();
    CHECK(number(ran(0, {"trial", second}).find("before").find("zones").list()->front(), "load_w") == 90);
    ran(0, {"trial", changes, "--real", "set"});
    CHECK(load() == 86);
}

TEST_CASE("a survey kept as planned loudspeakers: places in the room, state, tap, zone; one undo takes all back") {
    const OldSite site;
    const Ran made = site.run({"survey", site.file, "r1", "t1", "--keep", "--json", "--person", "Ana"});
    REQUIRE_MESSAGE(made.status == 0, made.err);
    const Value kept = json_of(made);
    const List& ids = *kept.find("points").list();
    CHECK(ids.size() == 12);
    REQUIRE(site.run({"export", site.file, site.path("out.json")}).status == 0);
    const Value all = *parse_json(read_bytes(site.path("out.json")), "out");
    std::size_t found = 0;
    for (const Value& point : *all.find("points").list()) {
        if (std::find(ids.begin(), ids.end(), point.find("id")) == ids.end()) continue;
        ++found;
        CHECK(point.find("room") == Value("r1"));
        CHECK(point.find("state") == Value("planned"));
        CHECK(number(point, "planned_tap_w") == 1);
        CHECK(number(point, "x_m") > 0);
        CHECK(number(point, "y_m") > 0);
        CHECK(point.find("fed_from") == (found == 1 ? Value("z1") : ids[found - 2]));
    }
    CHECK(found == ids.size());
    CHECK(site.run({"undo", site.file, "--person", "Ana"}).status == 0);
    REQUIRE(site.run({"export", site.file, site.path("after.json")}).status == 0);
    CHECK(parse_json(read_bytes(site.path("after.json")), "after")->find("points").list()->size() == 10);
}

TEST_CASE("what cannot be kept is refused, and nothing is written") {
    const OldSite site;
    site.refused({"fit", site.file, "z1", "--add", "t1x1", "--keep", "X"}, "give --aim");
    site.refused({"fit", site.file, "z1", "--add", "t1x8@10", "--aim", "level", "--keep", "X"}, "would fit");
    site.refused({"fit", site.file, "z1", "--aim", "level", "--keep", "X"}, "Nothing has to change");
    site.refused({"fit", site.file, "z1", "--add", "t1x1", "--aim", "level", "--keep="}, "--keep");
    site.refused({"trial", site.file, "tr1", "--real", "now"}, "set or plan");
    site.refused({"trial", site.file, "tr1", "--real", "set", "--keep", "X"}, "not both");
    site.refused({"trial", site.file, "tr1", "--keep", "X", "--visit", "v9"}, "v9");
    site.refused({"survey", site.file, "r1", "t1", "--keep", "--wanted", "120"}, "no plan to keep");
}

TEST_CASE("survey, trial and fit refuse what they cannot answer, and write nothing") {
    OldSite site;
    const auto survey = [&](const char* room, const char* type, std::vector<std::string> more = {}) {
        std::vector<std::string> call{"survey", site.file, room, type};
        call.insert(call.end(), more.begin(), more.end());
        return call;
    };
    site.refused(survey("r9", "t1"), "Room: this job has none with the id, label or name r9.");
    site.refused(survey("r1", "t9"), "Loudspeaker type: this job has none with the id, label or name t9.");
    site.refused(survey("not an id", "t1"), "label or name not an id.");
    site.refused(survey("r1", "t1", {"--grid", "round"}), "square or staggered");
    site.refused(survey("r1", "t1", {"--rule", "much"}), "touching, gapless or double");
    site.refused(survey("r1", "t1", {"--wanted", "loud"}), "--wanted");
    site.refused(survey("r1", "t1", {"--margin", "-"}), "--margin");
    site.refused(survey("r1", "t1", {"--zone", "z9"}), "z9");
    site.refused(survey("r1", "t2x4"), "level for 1 W at 1 m");
    const auto fit = [&](std::vector<std::string> more) {
        more.insert(more.begin(), {"fit", site.file});
        return more;
    };
    site.refused(fit({"z9", "--add", "t1x1"}), "label or name z9");
    site.refused(fit({"z1", "--add", "t9x1"}), "label or name t9");
    site.refused(fit({"z1", "--add", "t1x1@3"}), "no tap of 3 W");
    site.refused(fit({"z1", "--add", "t1x0"}), "1 to 1000");
    site.refused(fit({"z1", "--add", "t1x99999"}), "1 to 1000");
    for (const char* wrong : {"t1", "x4", "t1x", "t1x-1", "t1x1e3", "", "t1x1,", "t1 x 4"})
        site.refused(fit({"z1", "--add", wrong}), "is not TYPExN");
    site.refused(fit({"z1", "--add", "t1x1@"}), "tap");
    site.refused(fit({"z1", "--add", "t1x1@five"}), "tap");
    site.refused(fit({"z1", "--add", "t1x1", "--aim", "best"}), "fewest, level or wanted");
    site.refused(fit({"z1", "--add", "t1x1", "--from", "t1"}), "label or name t1");
    site.refused(fit({"z1", "--add", "t1x1", "--leave", "nowhere"}), "label or name nowhere");
    site.refused(fit({"z1", "--aim", "level", "--aim", "fewest"}), "--aim given twice");
    const auto trial = [&](const std::string& text) {
        return std::vector<std::string>{"trial", site.file, site.write("trial.json", text)};
    };
    site.refused(trial("{}"), "It has no list of changes");
    site.refused(trial(R"({"name": "x"})"), "It has no list of changes");
    site.refused(trial(R"({"changes": 5})"), "It has no list of changes");
    site.refused(trial("5"), "It has no list of changes");
    site.refused(trial("null"), "It has no list of changes");
    site.refused(trial("[]"), "holds no changes");
    site.refused(trial("[1]"), "trial.json");
    site.refused(trial(R"([{"op": "paint", "kind": "point", "id": "p1"}])"), "op");
    site.refused(trial(R"([{"op": "remove", "kind": "point", "id": "p99"}])"), "p99");
    site.refused(trial(R"([{"op": "remove", "kind": "zone", "id": "z1"}])"), "is still used");
    site.refused(trial(R"([{"op": "set", "kind": "point", "id": "p1", "fields": {"tap_w": 7}}])"), "7 W");
    site.refused(trial(R"([{"op": "set", "kind": "point", "id": "p1", "fields": {"fed_from": "p3"}}])"), "circle");
    site.refused(trial(R"([{"op": "set", "kind": "zone", "id": "z1", "fields": {"limit_w": 0}}])"), "limit_w");
    site.refused({"trial", site.file, site.path("none.json")}, "none.json");
    site.refused({"set", site.file, "z1", "limit_w=0"}, "limit_w");
    site.refused({"set", site.file, "t1", "taps_w="}, "Taps of Ceiling");
    site.set("r1", "height_m=");
    site.refused(survey("r1", "t1"), "Hall has no ceiling height recorded.");
    site.set("r1", "height_m=1");
    site.refused(survey("r1", "t1"), "not above the ears at 1.2 m");
    site.set("z1", "limit_w=");
    site.set("a1", "rated_w=");
    site.refused(fit({"z1", "--add", "t1x1"}), "Record the limit of Zone and the rating of Output");
    site.set("z1", "limit_w=100");
    site.set("p7", "tap_w=");
    site.refused(fit({"z1", "--add", "t1x1"}), "C-7");
}

TEST_CASE("cable --json: 60 W over 40 m of 1.5 mm2 at 100 V (IEC 60228: 12.1 ohm/km), and what is refused") {
    const OldSite site;
    const Value made = site.json(
        0, {"cable", "--load", "60", "--length", "40m", "--size", "1.5mm2", "--volts", "100", "--limit-db", "1"});
    CHECK(number(made, "load_w") == 60);
    CHECK(number(made, "length_m") == 40);
    CHECK(number(made, "ohm") == doctest::Approx(0.968));
    CHECK(number(made, "loss_db") == doctest::Approx(20 * std::log10(1 + 0.968 * 60 / 10000)));
    CHECK(number(made, "volts_end") == doctest::Approx(100 / (1 + 0.968 * 60 / 10000)));
    CHECK(number(made, "watts_lost") == doctest::Approx(0.968 * std::pow(100 / (10000.0 / 60 + 0.968), 2)));
    CHECK(number(made, "longest_m") == doctest::Approx((std::pow(10, 0.05) - 1) * 10000 / 60 / 2 / 0.0121));
    const List& sizes = *made.find("sizes").list();
    CHECK(keys(sizes.front()) == Keys{"size", "loss_db", "within_limit"});
    CHECK(site.run({"cable", "--load", "60", "--length", "130ft", "--volts", "70.7"}).status == 0);
    site.refused({"cable", "--length", "40m", "--volts", "100"}, "--load");
    site.refused({"cable", "--load", "60", "--length", "40m", "--volts", "0"}, "Line voltage");
    site.refused({"cable", "--load", "60", "--length", "40m", "--volts", "100", "--size", "1.5"}, "--size");
    site.refused({"cable", "--load", "60", "--length", "40m", "--volts", "100", "--size", "3mm2"}, "3 mm");
}
