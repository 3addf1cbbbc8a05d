// A zone nobody has records of, summed up from its reading. The figures are worked by hand (common practice, no single
// source).
#include <doctest/doctest.h>

#include "core/readings/zone_balance.h"
#include "core/words/balance_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"
#include "tests/findings/plain_words.h"

using namespace tapwright;

namespace {

ZoneBalance balance(const Job& job) {
    return balance_of_zone(job, derive(job), Id("z"));
}
std::string text(const Job& job) {
    const Statement statement = statement_of(job, balance(job));
    CHECK(faults_of(job, in_english(statement.text), 2) == std::vector<std::string>{});
    CHECK(faults_of(job, in_english(statement.why), 0) == std::vector<std::string>{});
    return in_english(statement.text);
}
std::string why(const Job& job) {
    return in_english(statement_of(job, balance(job)).why);
}

}  // namespace

TEST_CASE("one zone and one reading: 200 ohm on 100 V are 50 W, taps of 40 to 60 W, all of it unrecorded") {
    JobBuilder job = one_zone(100, 100, 500);
    CHECK(balance(job).read_before);
    CHECK_FALSE(balance(job).measured);
    CHECK(text(job) ==
          "z: no impedance reading yet. Make sure this is not a fire or emergency line, then disconnect the amplifier "
          "and "
          "read it before adding anything.");
    CHECK(why(job) == "By the records alone there is room for 80 W.");
    job.read("r", "z", 200);
    const ZoneBalance made = balance(job);
    CHECK(made.reading == Id("r"));
    CHECK(made.measured == Watts(50));
    CHECK(made.least->value() == doctest::Approx(40));
    CHECK(made.most->value() == doctest::Approx(60));
    CHECK(made.recorded == Watts(0));
    CHECK(made.unrecorded == Watts(50));
    CHECK(made.can_add == Watts(30));
    CHECK(made.sure_to_add->value() == doctest::Approx(20));
    CHECK_FALSE(made.read_before);
    CHECK_FALSE(made.read_after);
    CHECK(text(job) ==
          "z: room for 30 W if every impedance is as rated, 20 W at worst (20 % off). Plan on 20 W until the 50 W is "
          "found.");
    CHECK(
        why(job) ==
        "50 W measured (200 Ω), 0 W recorded: 50 W is not accounted for. A loudspeaker's impedance may be 20 % off, so "
        "the taps are 40 W to 60 W.");
    // A tighter tolerance narrows it.
    job.info("ohms_tol_pct", 10.0);
    CHECK(balance(job).most->value() == doctest::Approx(55));
    CHECK(balance(job).sure_to_add->value() == doctest::Approx(25));
}

TEST_CASE("example C: found loudspeakers reduce what is unaccounted for, added ones do not and ask for a new reading") {
    JobBuilder job = one_zone(100, 100, 500).chain("p", 6, "z", 6).read("r1", "z", 185.2);
    ZoneBalance made = balance(job);
    CHECK(made.recorded->value() == doctest::Approx(36));
    CHECK(made.unrecorded.value() == doctest::Approx(18).epsilon(1e-3));
    CHECK(made.can_add->value() == doctest::Approx(26).epsilon(1e-3));
    CHECK(made.sure_to_add->value() == doctest::Approx(26.004 - 10.799).epsilon(1e-3));
    job.speaker("n1", "p6", 6, {{"origin", "new"}}).speaker("n2", "n1", 6, {{"origin", "new"}});
    made = balance(job);
    CHECK(made.added.value() == doctest::Approx(12));
    CHECK(made.found == Watts(0));
    CHECK(made.read_after);
    CHECK(made.can_add->value() == doctest::Approx(14).epsilon(1e-3));
    CHECK(why(job).find("12 W was added since.") != std::string::npos);
    CHECK(text(job).ends_with("Read it again: something was added since."));
    job.speaker("old", "p3", 6, {{"origin", "existing"}, {"found_w", 6.0}, {"found_by", "r1"}});
    made = balance(job);
    CHECK(made.found.value() == doctest::Approx(6));
    CHECK(made.added.value() == doctest::Approx(12));
    CHECK(made.unrecorded.value() == doctest::Approx(12).epsilon(1e-3));
    CHECK(made.can_add->value() == doctest::Approx(14).epsilon(1e-3));
    CHECK(why(job).find("6 W of it was found and recorded since.") != std::string::npos);
    // The next reading takes all of that in: 54 recorded, 12 not.
    job.read("r2", "z", 151.5);
    made = balance(job);
    CHECK(made.reading == Id("r2"));
    CHECK(made.recorded->value() == doctest::Approx(54));
    CHECK(made.added == Watts(0));
    CHECK_FALSE(made.read_after);
}

TEST_CASE("where the reading agrees with the record, the record counts and nothing is taken off") {
    JobBuilder job = one_zone(70.7, 100).chain("p", 12, "z", 5).read("r", "z", 69.0);
    const ZoneBalance made = balance(job);
    CHECK(made.unrecorded == Watts(0));
    CHECK(made.can_add == Watts(20));
    CHECK(made.sure_to_add == Watts(20));
    CHECK(text(job) == "z: room for 20 W. Read it again after adding.");
}

TEST_CASE("an open line, a limit nobody knows, and a low-impedance zone are said as such") {
    JobBuilder job = one_zone(100, 100).over_range("r", "z", 100000);
    CHECK_FALSE(balance(job).measured);
    CHECK(why(job) == "The newest reading shows an open line.");
    JobBuilder unknown = one_zone(100, 100);
    unknown.set("zone", "z", "limit_w", Value()).read("r", "z", 200);
    CHECK_FALSE(balance(unknown).can_add);
    CHECK_FALSE(balance(unknown).sure_to_add);
    CHECK(text(unknown) ==
          "z: what may be added is unknown, as a limit or a tap is not recorded. Find the 50 W that is not recorded.");
    JobBuilder low = one_zone(100, 100).read("r", "z", 8);
    low.set("zone", "z", "output", "low_z");
    CHECK_FALSE(balance(low).can_add);
    CHECK(text(low) ==
          "z: low-impedance zone, so watts do not apply. Keep its impedance above what its output may be loaded with.");
}
