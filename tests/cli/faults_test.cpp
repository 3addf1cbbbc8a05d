// faults through the real program: the keys of the contract on the demo job, what was just found given beside it, and
// what is said of calls that cannot be answered.
#include <doctest/doctest.h>

#include <cmath>

#include "core/job/json.h"
#include "tests/cli/inn.h"
#include "tests/cli/program.h"
#include "tests/session/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

class DemoFaults {
public:
    DemoFaults() { REQUIRE(run({"import", TAPWRIGHT_SOURCE_DIR "/assets/demo.json", file}).status == 0); }
    Ran run(const std::vector<std::string>& arguments) const {
        return tapwright::test::tapwright(folder_.path().string(), arguments);
    }
    Value json(std::vector<std::string> arguments) const {
        arguments.insert(arguments.begin(), {"faults", file});
        arguments.push_back("--json");
        const Ran ran = run(arguments);
        CHECK(ran.status == 0);
        CHECK(ran.err.empty());
        const Result<Value> value = parse_json(ran.out, "faults");
        REQUIRE_MESSAGE(value.ok(), ran.out);
        return *value;
    }

private:
    TemporaryFolder folder_;

public:
    const std::string file = folder_.file("demo.tapjob");
};

double sum_of_chances(const Value& answer) {
    double sum = *answer.find("others").number() + *answer.find("unexplained").number();
    for (const Value& cause : *answer.find("causes").list()) sum += *cause.find("chance").number();
    return sum;
}

}  // namespace

TEST_CASE("faults_of_the_foyer_by_the_keys_of_the_contract") {
    const DemoFaults demo;
    const Value answer = demo.json({"Foyer"});
    for (const char* key : {"zone", "used", "heard", "causes", "others", "unexplained", "next", "text"})
        CHECK_FALSE(answer.find(key).is_null());
    CHECK(answer.find("zone") == Value("z-1"));
    CHECK(std::abs(sum_of_chances(answer) - 1) < 1e-6);
    const Value& first = answer.find("causes").list()->front();
    CHECK(first.find("kind") == Value("dead"));
    CHECK(first.find("at").list()->front() == Value("s-104"));
    const Value& explained = first.find("explains").list()->front();
    CHECK(explained.find("at") == Value("z-1"));
    CHECK(std::abs(*explained.find("predicted").number() - 138) < 3);
    CHECK(explained.find("read") == Value(138.0));
    CHECK(answer.find("next").list()->empty());  // sure already
    bool has_baseline = false;
    for (const Value& used : *answer.find("used").list()) has_baseline |= used.find("reading") == Value("m-9");
    CHECK(has_baseline);
}

TEST_CASE("faults_takes_what_was_just_found_and_says_what_the_next_would_mean") {
    const DemoFaults demo;
    const std::vector<std::string> not_silent{"Foyer", "--with", "C-104:heard=ok", "--with", "J-110:ohms=204"};
    std::vector<std::string> ohms = not_silent;
    ohms.insert(ohms.end(), {"--only", "ohms", "--equal"});
    const Value answer = demo.json(ohms);
    CHECK(std::abs(sum_of_chances(answer) - 1) < 1e-6);
    REQUIRE_FALSE(answer.find("next").list()->empty());
    const double causes = static_cast<double>(answer.find("causes").list()->size());
    for (const Value& next : *answer.find("next").list()) {
        CHECK(next.find("quantity") == Value("ohms"));
        CHECK(*next.find("bits").number() > 0);
        CHECK(*next.find("minutes").number() > 0);
        for (const Value& shown : *next.find("expected").list())
            for (const Value& cause : *shown.find("causes").list()) CHECK(*cause.number() < causes);
    }
    std::vector<std::string> call = not_silent;
    call.insert(call.begin(), {"faults", demo.file});
    const Ran text = demo.run(call);
    CHECK(text.status == 0);
    CHECK(text.out.find("Next: ") != std::string::npos);
}

TEST_CASE("faults_of_the_old_wing_proposes_the_untraced") {
    const DemoFaults demo;
    const Value answer = demo.json({"Old wing"});
    const Value& first = answer.find("causes").list()->front();
    CHECK(first.find("kind") == Value("wrong_feed"));
    CHECK(first.find("at").list()->size() == 3);
}

TEST_CASE("faults_refuses_in_a_sentence_what_it_cannot_answer") {
    const DemoFaults demo;
    const auto refused = [&](std::vector<std::string> call) {
        call.insert(call.begin(), {"faults", demo.file});
        const Ran ran = demo.run(call);
        CHECK(ran.status == 2);
        CHECK(ran.out.empty());
        CHECK(ran.err.ends_with(".\n"));
        return ran.err;
    };
    refused({"Cellar"});
    refused({"Workshop"});  // nothing connected
    refused({"Foyer", "--with", "J-110"});
    refused({"Foyer", "--with", "J-999:ohms=3"});
    refused({"Foyer", "--with", "J-110:smell=3"});
    refused({"Foyer", "--with", "J-110:ohms=many"});
    refused({"Foyer", "--with", "C-104:heard=perhaps"});
    refused({"Foyer", "--only", "smell"});
}

// check, read and faults give one advice, and no sentence names another place to measure at.
TEST_CASE("whatever_advises_where_to_measure_says_what_faults_says") {
    const DemoFaults demo;
    const auto check = [&] {
        const Ran ran = demo.run({"check", demo.file, "--json"});
        const Result<Value> value = parse_json(ran.out, "check");
        REQUIRE(value.ok());
        return *value;
    };
    std::size_t advised = 0, sure = 0;
    const auto compare = [&](const Value& answer, const std::string& zone) {
        for (const Value& finding : *answer.find("findings").list())
            for (const char* part : {"text", "why"})
                CHECK(finding.find(part).text()->find("disconnect the cable into") == std::string::npos);
        const Value next = demo.json({zone}).find("next");
        for (const Value& reading : *answer.find("readings").list()) {
            if (reading.find("at") != Value(zone) || reading.find("verdict") == Value("agrees")) continue;
            if (reading.find("next").is_null()) continue;
            REQUIRE_FALSE(next.list()->empty());
            CHECK(reading.find("next") == next.list()->front());
            ++advised;
        }
        sure += next.list()->empty();
    };
    compare(check(), "z-1");
    compare(check(), "z-7");
    // Lines as they might read: some of it gone, some of it more, at the head and at a point.
    const struct {
        const char *zone, *at, *ohms;
    } read[] = {{"z-3", "z-3", "49"},    {"z-3", "j-150", "49"}, {"z-6", "z-6", "310"},
                {"z-6", "s-222", "500"}, {"z-1", "z-1", "90"},   {"z-9", "z-9", "260"}};
    for (const auto& one : read) {
        CAPTURE(std::string(one.at));
        const Ran ran =
            demo.run({"read", demo.file, one.at, std::string("ohms=") + one.ohms, "isolated=yes", "--json"});
        const Result<Value> taken = parse_json(ran.out, "read");
        REQUIRE_MESSAGE(taken.ok(), ran.err);
        const Value next = demo.json({one.zone}).find("next");
        const bool fits = taken->find("verdict") == Value("agrees");
        CHECK(taken->find("next") == (fits || next.list()->empty() ? Value() : next.list()->front()));
        compare(check(), one.zone);
    }
    CHECK(advised >= 4);
    CHECK(sure >= 1);
}

TEST_CASE("a reading without one loudspeaker says what that one draws") {
    const DemoFaults demo;
    const auto chance_of = [&](const std::vector<std::string>& more, const std::string& kind, const std::string& at) {
        std::vector<std::string> arguments{"Foyer"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Value answer = demo.json(arguments);
        double chance = 0;
        for (const Value& cause : *answer.find("causes").list())
            if (*cause.find("kind").text() == kind && *cause.find("at").list()->front().text() == at)
                chance += *cause.find("chance").number();
        return chance;
    };
    // Foyer reads 138 Ω with everything on it; without C-105 5 W less, so C-105 plays; the same with it: it does not.
    const double before = chance_of({"--with", "C-104:heard=ok"}, "dead", "s-105");
    CHECK(before > 0.01);
    CHECK(chance_of({"--with", "C-104:heard=ok", "--with", "C-105:without=160"}, "dead", "s-105") < before / 3);
    CHECK(chance_of({"--with", "C-104:heard=ok", "--with", "C-105:without=138"}, "dead", "s-105") > 3 * before);
    const Ran ran = demo.run({"faults", demo.file, "Foyer", "--with", "W-153:without=160"});
    CHECK(ran.status == 2);
    CHECK(ran.err.find("no loudspeaker of Foyer") != std::string::npos);
}

TEST_CASE("what_is_given_with_the_question_is_used_or_refused_never_passed_over") {
    const Inn inn;
    inn.run(0, {"add", inn.file, "zone", "id=z2", "name=New wing"});
    inn.run(0, {"add", inn.file, "point", "id=s1", "kind=splice", "label=J-1", "fed_from=z1"});
    inn.run(0, {"add", inn.file, "point", "id=p1", "kind=speaker", "label=L-1", "tap_w=6", "fed_from=s1"});
    inn.run(0, {"read", inn.file, "z1", "ohms=800", "isolated=yes"});
    const auto refused = [&](const std::string& with) {
        return inn.run(2, {"faults", inn.file, "z1", "--with", with}).err;
    };
    CHECK(has(refused("z1:ohms=0"), "Impedance is above 0 Ω. For a dead short write what the meter shows"));
    CHECK(has(refused("z2:ohms=80"), "New wing is not on the line of Old wing. Name Old wing or a point of it."));
    CHECK(has(refused("z1:heard=silent"), "Old wing is no loudspeaker of Old wing."));
    CHECK(has(refused("J-1:heard=ok"), "J-1 is no loudspeaker of Old wing."));
    CHECK(has(refused("J-1:tap_w=6"), "J-1 is no loudspeaker of Old wing."));
    CHECK(has(refused("L-1:tap_w=OL"), "tap_w needs a figure"));
    inn.run(
        0, {"faults", inn.file, "z1", "--with", "L-1:heard=silent", "--with", "J-1:ohms=0.1", "--with", "L-1:tap_w=3"});
}

TEST_CASE("a_figure_given_twice_is_told_by_the_name_it_was_given_with") {
    const Inn inn;
    CHECK(has(inn.run(2, {"read", inn.file, "z1", "ohms=100", "ohms=200"}).err, "ohms given twice. Give it once."));
    CHECK(has(inn.run(2, {"read", inn.file, "z1", "ohms=100", "volts=70"}).err, "A reading has one figure."));
}
