// Every finding code has a job that provokes it and one, as near to it as can be, that does not.
#include "core/findings/findings.h"

#include <doctest/doctest.h>

#include <fstream>
#include <set>

#include "core/findings/against_limit.h"
#include "core/words/findings_text.h"
#include "core/words/words.h"
#include "tests/findings/finding_cases.h"
#include "tests/findings/plain_words.h"

using namespace tapwright;

TEST_CASE("what was found and written down since a reading is no change of the line") {
    // 125 ohm where 250 were expected: about 20 W more than recorded.
    JobBuilder job = sound_job();
    job.set("reading", "r", "value", 125.0).set("reading", "r", "expected_ohm", 253.0);
    CHECK_FALSE(has_finding(derive(job), "changed_since_reading"));
    job.speaker("found", "p4", 10, {{"origin", "existing"}, {"cable", "c"}, {"length_m", 2.0}});
    CHECK_FALSE(has_finding(derive(job), "changed_since_reading"));
    // A tap that is turned down takes the record away from what was read.
    job.remove("point", "found").set("point", "p1", "tap_w", 1.0);
    CHECK(has_finding(derive(job), "changed_since_reading"));
}

TEST_CASE("a limit reached exactly is kept, though the sum of its taps comes out above it") {
    JobBuilder job = one_zone(70.7, 60, 60);
    job.info("reserve_pct", 0.0).set("speaker_type", "s", "taps_w", List{1.2, 2.4});
    job.chain("p", 50, "z", 1.2);
    const Derived derived = derive(job);
    REQUIRE(zone_of(job, derived, "z").margin.load > Watts(60));  // by its rounding
    CHECK(zone_of(job, derived, "z").margin.headroom == Watts(0));
    CHECK(zone_of(job, derived, "z").can_add == Watts(0));
    CHECK_FALSE(zone_of(job, derived, "z").margin.over());
    for (const std::string_view code : {"zone_over_limit", "zone_into_reserve", "channel_over_limit",
                                        "channel_into_reserve", "amplifier_over_limit", "amplifier_into_reserve"}) {
        CAPTURE(std::string(code));
        CHECK_FALSE(has_finding(derived, code));
    }
    job.speaker("one_more", "p50", 1.2);
    CHECK(has_finding(derive(job), "zone_over_limit"));
}

TEST_CASE("a reserve reached exactly is kept") {
    JobBuilder job = one_zone(70.7, 60, 60);
    job.set("speaker_type", "s", "taps_w", List{1.2, 2.4}).chain("p", 40, "z", 1.2);
    const Derived derived = derive(job);
    REQUIRE(zone_of(job, derived, "z").margin.load > Watts(48));  // by its rounding
    CHECK(zone_of(job, derived, "z").margin.headroom == Watts(0));
    CHECK_FALSE(has_finding(derived, "zone_into_reserve"));
    CHECK_FALSE(has_finding(derived, "channel_into_reserve"));
    job.speaker("one_more", "p40", 1.2);
    CHECK(has_finding(derive(job), "zone_into_reserve"));
}

TEST_CASE("an excess that is there is never said to be 0 W") {
    JobBuilder job = one_zone(70.7, 60, 180);
    job.info("reserve_pct", 0.0).set("zone", "z", "limit_w", 59.9999).set("speaker_type", "s", "taps_w", List{5.0});
    job.chain("p", 12, "z", 5);
    const Derived derived = derive(job);
    REQUIRE(has_finding(derived, "zone_over_limit"));
    const FindingWords words(job, derived);
    for (const Finding& finding : derived.findings)
        if (finding.code == "zone_over_limit") {
            const std::string said = in_english(words.statement_of(finding).text);
            CAPTURE(said);
            CHECK(said.find(": 0 W over") == std::string::npos);
            CHECK(said.find(": 0.01 W over") != std::string::npos);
        }
}

TEST_CASE("a sound job has no findings") {
    const JobBuilder job = sound_job();
    const Derived derived = derive(job);
    for (const Finding& finding : derived.findings) {
        CAPTURE(std::string(finding.code));
        CHECK_MESSAGE(false, in_english(statement_of(job, derived, finding).text));
    }
}

TEST_CASE("every finding is provoked, and avoided by a hair") {
    for (const FindingCase& c : all_finding_cases()) {
        CAPTURE(std::string(c.code));
        JobBuilder wrong = sound_job();
        c.fault(wrong);
        const Derived derived = derive(wrong);
        CHECK(has_finding(derived, c.code));
        const FindingWords words(wrong, derived);
        std::vector<std::string> said;
        for (const Finding& finding : derived.findings)
            if (finding.code == c.code) said.push_back(in_english(words.statement_of(finding).text));
        REQUIRE_FALSE(said.empty());
        CAPTURE(said.front());
        CHECK(std::find(said.begin(), said.end(), c.text) != said.end());

        JobBuilder right = sound_job();
        c.no_fault(right);
        CHECK_FALSE(has_finding(derive(right), c.code));
    }
}

TEST_CASE("no code is without a case") {
    std::set<std::string_view> tested;
    for (const FindingCase& c : all_finding_cases()) tested.insert(c.code);
    for (const FindingInfo& info : finding_table()) {
        CAPTURE(std::string(info.code));
        CHECK(tested.count(info.code) == 1);
        CHECK_FALSE(info.help.empty());
    }
    CHECK(tested.size() == finding_table().size());
}

TEST_CASE("docs/calculations.md lists every code as it is") {
    std::ifstream page(std::string(TAPWRIGHT_SOURCE_DIR) + "/docs/calculations.md");
    REQUIRE(page);
    std::vector<std::string> listed;
    bool in_findings = false;
    for (std::string line; std::getline(page, line);) {
        if (line.starts_with("## ")) in_findings = line.starts_with("## Findings");
        if (in_findings && line.starts_with("| `")) listed.push_back(line);
    }
    std::vector<std::string> table;
    for (const FindingInfo& info : finding_table())
        table.push_back("| `" + std::string(info.code) + "` | " + std::string(word(info.severity)) + " | " +
                        in_english(Message(info.help)) + " |");
    REQUIRE(listed.size() == table.size());
    for (std::size_t i = 0; i < table.size(); ++i) CHECK(listed[i] == table[i]);
}

TEST_CASE("stops come first, then warnings, then notes; within these record order") {
    JobBuilder job = sound_job();
    job.set("point", "p2", "polarity", "reversed").set("point", "p1", "polarity", "reversed");
    job.set("point", "p3", "planned_tap_w", 10.0).set("zone", "z", "limit_w", 19.8);
    const Derived derived = derive(job);
    std::vector<std::string> order;
    for (const Finding& finding : derived.findings)
        order.push_back(std::string(finding.code) + "@" + finding.at.text());
    CHECK(order == std::vector<std::string>{"zone_over_limit@z", "polarity_reversed@p1", "polarity_reversed@p2",
                                            "tap_off_plan@p3"});
    CHECK(derived.has_stop());
}

TEST_CASE("what is said at once of each finding is short and plain") {
    for (const FindingCase& c : all_finding_cases()) {
        CAPTURE(std::string(c.code));
        JobBuilder job = sound_job();
        c.fault(job);
        const Derived derived = derive(job);
        const FindingWords words(job, derived);
        for (const Finding& finding : derived.findings) {
            const Statement statement = words.statement_of(finding);
            CHECK(faults_of(job, in_english(statement.text), 2) == std::vector<std::string>{});
            CHECK(faults_of(job, in_english(statement.why), 0) == std::vector<std::string>{});
        }
    }
}

TEST_CASE("a text that is not short and plain is found") {
    JobBuilder job = sound_job();
    const auto faults = [&](const char* text) { return faults_of(job, text, 2); };
    CHECK(faults("Foyer: 138 Ω read, \u22123 dB lost. Read again.").empty());
    CHECK(faults("C-104: a 5 W tap.").empty());
    CHECK(faults("One. Two. Three.").size() == 1);
    CHECK(faults("One two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
                 "seventeen eighteen nineteen twenty more.")
              .size() == 1);
    CHECK(faults("It lies at -3 dB.").size() == 1);
    CHECK(faults("It is 5 ohm.").size() == 1);
    CHECK(faults("Every knob full.").size() == 1);
    CHECK(faults("Its channel is full.").size() == 1);
    CHECK(faults("STOP now.").size() == 1);
    CHECK(faults("p1 is open.").size() == 1);
    CHECK(faults("").size() == 1);
}

TEST_CASE("how a finding compares with its limit") {
    JobBuilder job = sound_job();
    job.set("zone", "z", "limit_w", 19.0);
    Derived derived = derive(job);
    const auto of = [&](std::string_view code) {
        for (const Finding& finding : derived.findings)
            if (finding.code == code) return against_limit(job, derived, finding);
        return std::optional<AgainstLimit>();
    };
    CHECK(of("zone_over_limit")->load == Watts(20));
    CHECK(of("zone_over_limit")->over == Watts(1));
    CHECK_FALSE(of("zone_over_limit")->into_reserve);
    job.set("zone", "z", "limit_w", 24.0);
    derived = derive(job);
    CHECK_FALSE(of("zone_into_reserve")->over);
    CHECK(of("zone_into_reserve")->into_reserve->value() == doctest::Approx(0.8));
    CHECK(of("zone_into_reserve")->reserve.value() == doctest::Approx(4.8));
    // 62.5 W are read where 20 are recorded: with what is not recorded the reserve of a limit of 75 W is reached.
    job.set("zone", "z", "limit_w", 75.0).read("r2", "z", 80.0);
    derived = derive(job);
    CHECK(of("measured_into_reserve")->unrecorded.value() == doctest::Approx(70.7 * 70.7 / 80 - 20).epsilon(0.01));
    CHECK(of("measured_into_reserve")->into_reserve.has_value());
    job.set("zone", "z", "limit_w", 60.0);
    derived = derive(job);
    CHECK(of("measured_into_reserve")->over.has_value());
    CHECK(of("reading_over_limit")->load.value() == doctest::Approx(70.7 * 70.7 / 80));
    CHECK(of("reading_over_limit")->over->value() == doctest::Approx(70.7 * 70.7 / 80 - 60));
    CHECK_FALSE(of("polarity_reversed"));
}
