// One headroom, wherever it is shown: what `check --json` says of a job at random is what a trial, making room and both
// sheets say of it; and what proves nothing, or adds something, never raises what may be added.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "core/calc/loads.h"
#include "core/plan/fit.h"
#include "core/plan/trial.h"
#include "core/sheet/sheet.h"
#include "tests/oracle/random_story.h"

using namespace tapwright;
using namespace tapwright::oracle;

namespace {

const Author ben{"Ben", ""};

bool is_same(const Json& said, const std::optional<Watts>& watts) {
    if (said.is_null() || !watts) return said.is_null() && !watts;
    return std::abs(said.get<double>() - watts->value()) <= 1e-9 * std::max(100.0, std::abs(watts->value()));
}

// Whether a place of a trial, before or after, is the one that `check` tells of.
bool is_same(const Json& said, const std::optional<Margin>& margin) {
    return margin && is_same(said["load_w"], std::optional<Watts>(margin->load)) &&
           is_same(said["headroom_w"], margin->headroom) &&
           is_same(said["unrecorded_w"], std::optional<Watts>(margin->unrecorded)) &&
           is_same(said["reserve_w"], margin->reserve);
}

const Json& place_of(const Json& said, const LoadPair& pair) {
    const char* kind = pair.kind == Kind::zone ? "zones" : pair.kind == Kind::channel ? "channels" : "amplifiers";
    for (const Json& place : said[kind])
        if (place["id"] == pair.id.text()) return place;
    RC_FAIL("a place that check does not know");
}

void a_trial_without_a_change_says_the_same(const Session& session, const Json& said) {
    const Result<Proposal> tried = session.propose(test::command({}), ben, test::Clock().next());
    RC_ASSERT(tried.ok());
    const Comparison comparison = compare(session.job(), session.derived(), tried->job, tried->derived);
    RC_ASSERT(comparison.findings.empty());
    for (const LoadPair& pair : comparison.loads) {
        const Json& place = place_of(said, pair);
        if (place["load_w"].is_null()) continue;  // low impedance or emergency: no sum of taps
        RC_ASSERT(is_same(place, pair.before));
        RC_ASSERT(is_same(place, pair.after));
        if (pair.kind != Kind::zone) continue;
        RC_ASSERT(is_same(place["can_add_w"], pair.can_add_before));
        RC_ASSERT(is_same(place["can_add_w"], pair.can_add_after));
        RC_ASSERT(pair.ohms_before == pair.ohms_after);
        RC_ASSERT(place["ohms"].is_null() == std::isinf(pair.ohms_before->value()));
        if (place["ohms"].is_number()) RC_ASSERT(place["ohms"].get<double>() == pair.ohms_before->value());
    }
}

// Making room for 5 W where there is room already changes nothing and takes 5 W of every figure.
void making_room_starts_from_the_same(const Session& session, const Json& said) {
    for (const Json& zone : said["zones"]) {
        if (zone["load_w"].is_null()) continue;
        FitRequest request{.zone = Id(zone["id"].get<std::string>())};
        request.add.push_back({.type = Id("s"), .tap = Watts(5)});
        request.aims = {Aim::fewest};
        const Result<Fit> answer = fit(session.job(), session.derived(), request);
        if (zone["can_add_w"].is_null()) {
            RC_ASSERT(!answer.ok());
            continue;
        }
        if (!answer.ok() || zone["can_add_w"].get<double>() < 5) continue;
        RC_ASSERT(answer->options.size() == 1);
        const FitOption& option = answer->options[0];
        RC_ASSERT(option.changes.empty());
        RC_ASSERT(is_same(Json(zone["load_w"].get<double>() + 5), std::optional<Watts>(option.load)));
        RC_ASSERT(is_same(Json(zone["headroom_w"].get<double>() - 5), option.headroom));
        RC_ASSERT(is_same(Json(zone["can_add_w"].get<double>() - 5), std::optional<Watts>(option.can_add)));
        RC_TAG("made room");
    }
}

// The cell about `name` in the column `title` of the table that has one about it; a column of nothing is left out.
std::string cell_of(const document::Document& sheet, const std::string& name, const std::string& title,
                    const std::string& of_table) {
    std::string heading;
    for (const document::Block& block : sheet.blocks) {
        if (const auto* held = std::get_if<document::Heading>(&block)) heading = held->text;
        const auto* table = std::get_if<document::Table>(&block);
        if (!table || !(table->caption.empty() ? heading : table->caption).starts_with(of_table)) continue;
        for (std::size_t i = 0; i < table->columns.size(); ++i)
            for (const auto& row : table->rows)
                if (table->columns[i].title == title && row.at(0).text == name) return row.at(i).text;
    }
    RC_FAIL("no " + title + " of " + name);
}

// The fact of that name on a zone's own page.
std::string fact_of(const document::Document& sheet, const std::string& zone, const std::string& name) {
    bool is_here = false;
    for (const document::Block& block : sheet.blocks) {
        if (const auto* heading = std::get_if<document::Heading>(&block)) is_here = heading->text == "Zone: " + zone;
        const auto* facts = std::get_if<document::Facts>(&block);
        if (!is_here || !facts) continue;
        for (const auto& fact : facts->facts)
            if (fact.name == name) return fact.value;
    }
    RC_FAIL("no " + name + " of " + zone);
}

// The impedance of a zone as people read it: a bound where something is not recorded.
std::string expected_words(const Json& zone, const Words& words) {
    const auto ohms = [&](const char* key) { return Ohms(zone[key].is_null() ? HUGE_VAL : zone[key].get<double>()); };
    const Ohms now = ohms("ohms"), all = ohms("ohms_all"), full = ohms("ohms_full");
    const Json& missing = zone["not_recorded"];
    const bool may_be_higher = missing["runs"] != 0 || missing["positions"] != 0;
    const bool may_be_lower = missing["taps"] != 0 || missing["untraced"] != 0;
    const auto bounded = [&](Ohms figure, bool higher, bool lower) {
        const std::string text = words.text(Message(figure));
        if (!std::isfinite(figure.value()) || !(higher || lower)) return text;
        return (higher && lower ? "about " : higher ? "at least " : "at most ") + text;
    };
    // More than 0.1 % apart, or one of them an open line.
    const auto is_other = [&](Ohms figure) {
        return std::isfinite(now.value()) ? !(std::abs(figure / now - 1) <= 0.001) : now != figure;
    };
    std::string text = bounded(now, may_be_higher, may_be_lower);
    if (is_other(full)) text += "; " + bounded(full, missing["runs"] != 0, may_be_lower) + " with attenuators full";
    // Some loudspeaker's tap is not known, a planned one's too. (Low-impedance zones have no load and are not looked
    // at.)
    const bool all_may_be_lower = may_be_lower || zone["basis"] == "at_least";
    return is_other(all) ? text + "; " + bounded(all, may_be_higher, all_may_be_lower) + " once all is connected"
                         : text;
}

void both_sheets_say_the_same(const Session& session, const Json& said) {
    const Words words;
    const auto sheet = [&](SheetReader reader) {
        SheetOptions options;
        options.reader = reader;
        options.time = "2026-03-02T12:00:00Z";
        return handover_sheet(session.job(), session.derived(), options, words);
    };
    const document::Document owner = sheet(SheetReader::owner), technician = sheet(SheetReader::technician);
    for (const Json& zone : said["zones"]) {
        if (zone["load_w"].is_null()) continue;
        const std::string name = zone["name"];
        const auto cell = [&](const char* title) { return cell_of(technician, name, title, "Load, limit"); };
        const Json& can_add = zone["can_add_w"];
        // The least on the way to the amplifier, and whose it is where it is not the zone's own.
        const std::string room = cell("Headroom");
        const auto place = static_cast<std::uint32_t>(&zone - &said["zones"][0]);
        const Tightest tightest = tightest_on_the_way(session.derived(), place);
        const std::string so_far = ", as far as recorded";  // a limit or a tap on the way is missing
        if (!tightest.margin.headroom) {
            RC_ASSERT(room == "unknown");
        } else if (room.ends_with(so_far)) {
            RC_ASSERT(can_add.is_null());
            RC_ASSERT(room == words.text(Message(rounded_down(*tightest.margin.headroom))) + so_far);
        } else {
            const std::string watts = words.text(Message(rounded_down(*tightest.margin.headroom)));
            RC_ASSERT(room.starts_with(watts) || room.starts_with("at most " + watts));
            RC_ASSERT(room.ends_with(")") == (tightest.kind != Kind::zone));
            RC_ASSERT(!can_add.is_null() || tightest.margin.is_open_ended || *tightest.margin.headroom < Watts(0));
            if (can_add.is_number()) RC_ASSERT((can_add.get<double>() > 0) == (tightest.margin.headroom->value() > 0));
        }
        // The owner is told what may be added, or to ask first.
        const std::string spare = cell_of(owner, name, "Spare", "Spare watts");
        const Watts may = may_add(Watts(can_add.is_number() ? can_add.get<double>() : 0));
        if (!spare.starts_with("ask first: "))
            RC_ASSERT(spare ==
                      (may > Watts(0) ? "up to " + words.text(Message(may)) : "full: nothing more may be added"));
        RC_ASSERT(spare.starts_with("ask first: ") || (can_add.is_number() && zone["unrecorded_w"] == 0));
        const std::string load = words.text(Message(Watts(zone["load_w"].get<double>())));
        const double more = zone["unrecorded_w"];
        RC_ASSERT(cell("Load") == (more > 0 ? load + " + " + words.text(Message(Watts(more))) + " measured" : load));
        // Behind it stands why it is a bound.
        const std::string expected = expected_words(zone, words);
        const std::string said_there = fact_of(technician, name, "Expected, attenuators as left");
        RC_ASSERT(said_there == expected || said_there.starts_with(expected + ". "));
    }
}

// What the strip of a zone and its tap keys are made of: the tightest limit on the way holds what may be added.
void the_tightest_limit_is_what_may_be_added(const Session& session, const Json& said) {
    for (std::uint32_t i = 0; i < said["zones"].size(); ++i) {
        const Json& can_add = said["zones"][i]["can_add_w"];
        if (!can_add.is_number()) continue;
        const Margin tightest = tightest_on_the_way(session.derived(), i).margin;
        if (tightest.headroom)
            RC_ASSERT(is_same(can_add, std::optional<Watts>(std::max(Watts(0), *tightest.headroom))));
    }
}

// "z0": 12.5; unknown is below everything: nothing may be added on its word.
std::map<std::string, double> what_may_be_added(const Session& session) {
    std::map<std::string, double> watts;
    const Json said = checked(session);
    for (const Json& zone : said["zones"])
        watts[zone["id"]] = zone["can_add_w"].is_number() ? zone["can_add_w"].get<double>() : -1;
    RC_ASSERT(!watts.empty());
    return watts;
}

void never_raised(Story& story, const Change& change) {
    const auto before = what_may_be_added(story.session());
    if (!story.request({change})) return;
    for (const auto& [zone, watts] : what_may_be_added(story.session())) {
        const auto was = before.find(zone);
        // A limit that is used up answers 0 where nothing was known before.
        if (was != before.end() && watts > std::max(was->second, 0.0) + 1e-9)
            RC_FAIL(story.exported() + zone + " may take more");
    }
}

}  // namespace

TEST_CASE("check, a trial, making room and both sheets say the same of 300 jobs") {
    CHECK(rc::check("the same figures everywhere", [] {
        for (int i = 0; i < 3; ++i) {
            const auto story = random_story(6);
            const Session& session = story->session();
            const Json said = checked(session);
            a_trial_without_a_change_says_the_same(session, said);
            making_room_starts_from_the_same(session, said);
            both_sheets_say_the_same(session, said);
            the_tightest_limit_is_what_may_be_added(session, said);
        }
    }));
}

TEST_CASE("what may be added never rises from a reading that proves nothing") {
    CHECK(rc::check("never raised by a reading", [] {
        const auto story = random_story(8);
        const double ohms = *rc::gen::element(50.0, 120.0, 277.0, 400.0, 5000.0);
        const Map read{{"at", "z0"}, {"quantity", "ohms"}, {"value", ohms}};
        const Map over{{"at", "z0"}, {"quantity", "ohms"}, {"over_range", true}};
        const auto but = [](Map fields, const char* key, const Value& value) {
            if (std::string(key) != "isolated") fields.emplace_back("isolated", true);
            fields.emplace_back(key, value);
            return fields;
        };
        never_raised(*story, test::add(Kind::reading, "unproven", read));
        never_raised(*story, test::add(Kind::reading, "connected", but(read, "isolated", false)));
        never_raised(*story, test::add(Kind::reading, "loud", but(read, "signal", "pink")));
        never_raised(*story, test::add(Kind::reading, "low", but(read, "hz", 100.0)));
        never_raised(*story, test::add(Kind::reading, "over", but(over, "range_ohm", 200.0)));
        never_raised(*story, test::add(Kind::reading, "open", but(over, "range_ohm", 20e6)));
        never_raised(*story,
                     test::add(Kind::reading, "stray", {{"at", "z0"}, {"quantity", "stray_v"}, {"value", 12.0}}));
        never_raised(*story, test::add(Kind::reading, "after", but(read, "hz", 1000.0)));
    }));
}

TEST_CASE("what may be added never rises from what is added") {
    CHECK(rc::check("never raised by an addition", [] {
        const auto story = random_story(8);
        for (const char* state : {"planned", "fitted"})
            for (const char* origin : {"new", "existing"}) {
                Map fields{{"kind", "speaker"}, {"label", "L"},   {"type", "s"},
                           {"fed_from", "z0"},  {"state", state}, {"origin", origin}};
                if (*rc::gen::inRange(0, 4) > 0) fields.emplace_back("tap_w", *rc::gen::element(5.0, 10.0));
                never_raised(*story, test::add(Kind::point, std::string(state) + "-" + origin, fields));
            }
        Map zone{{"name", "More"}, {"channel", "o0"}, {"limit_w", 500.0}};
        if (*rc::gen::arbitrary<bool>()) zone.emplace_back("output", "low_z");
        never_raised(*story, test::add(Kind::zone, "more", zone));
        never_raised(*story, test::add(Kind::point, "in-more",
                                       {{"kind", "speaker"}, {"label", "L"}, {"type", "s"}, {"fed_from", "more"}}));
        Map output{{"name", "More"}, {"amplifier", "amp"}};
        if (*rc::gen::arbitrary<bool>()) output.emplace_back("rated_w", 500.0);
        never_raised(*story, test::add(Kind::channel, "more-out", output));
        never_raised(*story, test::add(Kind::amplifier, "more-amp", {{"name", "More"}, {"rated_w", 500.0}}));
        never_raised(*story,
                     test::add(Kind::point, "wall", {{"kind", "attenuator"}, {"label", "A"}, {"fed_from", "z0"}}));
    }));
}
