// What is said of a reading.
#include <doctest/doctest.h>

#include "tests/readings/reading_jobs.h"

using namespace tapwright;

TEST_CASE("attenuator positions not noted are said") {
    JobBuilder job = one_zone(70.7, 100);
    job.add("attenuator_type", "a", {{"rated_w", 50.0}, {"steps_db", List{0.0}}});
    job.add("point", "w", {{"kind", "attenuator"}, {"type", "a"}, {"fed_from", "z"}});
    job.chain("p", 4, "w", 5);
    job.read("r", "z", 250.0);
    CHECK(newest(job).positions.attenuators == 1);
    CHECK(newest(job).positions.noted == 0);
    CHECK(says(why_of(job), "Attenuator positions not noted"));
    job.read("r2", "z", 250.0, {{"knobs", Map{{"w", 0.0}}}});
    CHECK(newest(job).positions.noted == 1);
    CHECK(says(why_of(job), "Attenuators as noted"));
}

TEST_CASE("readings that are kept and never compared") {
    JobBuilder job = twelve();
    job.add("room", "room");
    const auto text = [&](const Map& fields) {
        JobBuilder with = job;
        with.add("reading", "r", fields);
        CHECK(newest(with).verdict == Verdict::not_judged);
        CHECK(faults_of(with, text_of(with), 2) == std::vector<std::string>{});
        CHECK(faults_of(with, why_of(with), 0) == std::vector<std::string>{});
        return text_of(with);
    };
    CHECK(text({{"at", "z"}, {"quantity", "dc_ohms"}, {"value", 7.4}}) ==
          "z: 7.4 Ω by DC ohmmeter, not compared with the record.");
    CHECK(text({{"at", "z"}, {"quantity", "earth_ohms"}, {"value", 5e4}}) ==
          "z: 50 kΩ to earth, low: below 1 MΩ. Find the cause before switching the amplifier on.");
    CHECK(text({{"at", "z"}, {"quantity", "earth_ohms"}, {"value", 4e7}}) ==
          "z: 40 MΩ to earth, 1 MΩ or more as it should be.");
    CHECK(text({{"at", "z"}, {"quantity", "earth_ohms"}, {"range_ohm", 2e6}, {"over_range", true}}) ==
          "z: over 2 MΩ to earth, 1 MΩ or more as it should be.");
    CHECK(text({{"at", "z"}, {"quantity", "cross_ohms"}, {"value", 2e6}}) ==
          "z: 2 MΩ to another line, 1 MΩ or more as it should be.");
    CHECK(text({{"at", "z"}, {"quantity", "cross_ohms"}, {"value", 2e5}}) ==
          "z: 200 kΩ to another line, low: below 1 MΩ. Find the cause before switching the amplifier on.");
    CHECK(text({{"at", "z"}, {"quantity", "stray_v"}, {"value", 12.0}}) ==
          "z: 12 V stray, 1 V or more: treat the line as live. Find where it comes from before measuring impedance.");
    CHECK(text({{"at", "z"}, {"quantity", "stray_v"}, {"value", 0.2}}) ==
          "z: 0.2 V stray, low enough for the meter. This does not show the line is safe to touch.");
    CHECK(text({{"at", "room"}, {"quantity", "noise_dba"}, {"value", 55.0}}) == "room: 55 dB(A) noise.");
    CHECK(text({{"at", "room"}, {"quantity", "level_dba"}, {"value", 70.0}}) == "room: 70 dB(A) sound level.");
    CHECK(text({{"at", "room"}, {"quantity", "ohms"}, {"value", 55.0}}) ==
          "room: 55 Ω read, not judged: no zone, output or traced point. Trace the place to a zone, or record where it "
          "was read.");
    CHECK(text({{"at", "z"}, {"quantity", "volts"}, {"value", 68.0}}) == "z: 68 V on the line.");
    CHECK(text({{"at", "p1"}, {"quantity", "tap_w"}, {"value", 5.0}}) ==
          "p1: 5 W tap found. Correct the recorded tap if it differs.");
    CHECK(text({{"quantity", "ohms"}, {"value", 55.0}}).starts_with("No place: 55 Ω read, not judged"));
    CHECK(text({{"at", "z"}}) == "z: reading without quantity or figure. Enter both, or remove it.");
}

TEST_CASE("verdicts lead to the next step; only the newest at a place says to find the fault, and names no place") {
    JobBuilder job = twelve();
    job.read("r", "z", 50.0);
    CHECK(text_of(job) ==
          "z: 50 Ω read, at least 83.3 Ω expected (\u221240 %): more load than recorded. Next: find the fault.");
    CHECK(says(why_of(job), "Accepted: 66.7 Ω to 99.9 Ω (±20 %)."));
    CHECK(says(why_of(job), "Likely causes: a higher tap"));
    job.set("reading", "r", "isolated", Value());
    CHECK(says(why_of(job), "If it was connected, this reading is not valid."));
    job.read("r2", "z", 50.0);
    CHECK(in_english(statement_of(job, derive(job), 0).text) ==
          "z: 50 Ω read, 83.3 Ω expected (\u221240 %): more load than recorded. Look for a higher tap, an "
          "unrecorded "
          "loudspeaker, a bypass setting or a partial short.");
}
