// cable with a job: one of its cable types, its line voltage, allowed loss, temperature and unit of lengths.
#include <cmath>

#include "tests/cli/inn.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

struct Site : Inn {
    Site() {
        run(0, {"set", file, "job", "line_v=100", "loss_limit_db=0.5", "cable_c=45"});
        run(0, {"add", file, "cable_type", "id=k1", "name=Old reel", "ohm_per_km=20", "area_mm2=1.5"});
        run(0, {"add", file, "cable_type", "id=k2", "name=Unmarked"});
    }
    Value json(std::vector<std::string> more) const {
        std::vector<std::string> call{"cable", file, "--load", "60", "--json"};
        call.insert(call.end(), more.begin(), more.end());
        return json_of(run(0, call));
    }
    std::string refused(const std::vector<std::string>& call) const {
        const Ran ran = run(2, call);
        CHECK(ran.out.empty());
        return ran.err;
    }
};

}  // namespace

TEST_CASE("a cable of the job is taken with the resistance recorded for it, by id or name") {
    const Site site;
    const double pair = 2 * 0.04 * 20 * (1 + 0.00393 * 25), load = 10000.0 / 60;
    for (const char* name : {"k1", "old reel"}) {
        const Value made = site.json({"--length", "40m", "--cable", name});
        CHECK(made.find("cable") == Value("k1"));
        CHECK(number(made, "ohm") == doctest::Approx(pair));
        CHECK(number(made, "loss_db") == doctest::Approx(20 * std::log10(1 + pair / load)));
        CHECK(number(made, "volts") == 100);
        CHECK(number(made, "limit_db") == 0.5);
        CHECK(number(made, "celsius") == 45);
        CHECK(made.find("sizes").list()->size() == 7);
    }
    CHECK(number(site.json({"--length", "40m", "--cable", "k1", "--volts", "50", "--limit-db", "1"}), "volts") == 50);
    // A size in that job is of copper at the job's temperature.
    const Value size = site.json({"--length", "40m", "--size", "1.5mm2"});
    CHECK(size.find("cable").is_null());
    CHECK(number(size, "ohm") == doctest::Approx(2 * 0.04 * 12.1 * (1 + 0.00393 * 25)));
    site.run(0, {"set", site.file, "job", "units=imperial"});
    CHECK(number(site.json({"--length", "100", "--cable", "k1"}), "length_m") == doctest::Approx(30.48));
    CHECK(has(site.run(0, {"cable", site.file, "--load", "60", "--length", "100", "--cable", "k1"}).out,
              "60 W at 100 V over 100 ft of Old reel: "));
}

TEST_CASE("a cable that cannot be taken is refused, and says what to do") {
    const Site site;
    const std::vector<std::string> asked{"--load", "60", "--length", "40m"};
    const auto refused = [&](std::vector<std::string> call) {
        call.insert(call.end(), asked.begin(), asked.end());
        return site.refused(call);
    };
    CHECK(has(refused({"cable", site.file, "--cable", "Old rell"}), "Did you mean Old reel?"));
    CHECK(has(refused({"cable", site.file, "--cable", "Unmarked"}),
              "--cable: The resistance of Unmarked is unknown. Record its gauge, cross-section or resistance."));
    CHECK(has(refused({"cable", "--volts", "100", "--cable", "Old reel"}), "tapwright cable FILE --cable TYPE"));
    CHECK(has(refused({"cable", site.file, "--cable", "k1", "--size", "1.5mm2"}), "Give one of them."));
    CHECK(has(refused({"cable", "--size", "1.5mm2"}), "Give --volts"));
}
