// Cable before any record: the formulas by hand, and a published table.
#include "core/plan/cable.h"

#include <doctest/doctest.h>

#include <cmath>

#include "core/words/cable_text.h"
#include "core/words/words.h"

using namespace tapwright;

TEST_CASE("60 W over 40 m of 1.5 mm2 at 100 V, by hand (IEC 60228: 12.1 ohm/km; circuit theory)") {
    const CableQuestion question{
        .load = Watts(60), .length = Metres(40), .volts = Volts(100), .size = SquareMm(1.5), .limit = Decibels(1)};
    const Result<CableAnswer> made = cable_answer(question);
    REQUIRE(made.ok());
    REQUIRE(made->asked);
    const double pair = 2 * 40 * 12.1 / 1000, load = 10000.0 / 60;
    const double current = 100 / (load + pair);
    CHECK(made->asked->pair.value() == doctest::Approx(pair));
    CHECK(made->asked->loss.value() == doctest::Approx(20 * std::log10(1 + pair / load)));
    CHECK(made->asked->volts_end.value() == doctest::Approx(current * load));
    CHECK(made->asked->watts_end.value() == doctest::Approx(current * current * load));
    CHECK(made->asked->watts_lost.value() == doctest::Approx(current * current * pair));
    CHECK(made->asked->keeps);
    // As long as it may be, it has exactly the loss that is allowed.
    CableQuestion longest = question;
    longest.length = made->asked->longest;
    CHECK(cable_answer(longest)->asked->loss.value() == doctest::Approx(1).epsilon(1e-9));
    longest.length = longest.length * 1.001;
    CHECK_FALSE(cable_answer(longest)->asked->keeps);
    // The smallest size is the first that keeps the limit.
    CHECK(made->sizes.size() == 7);
    CHECK(made->smallest == ConductorSize(SquareMm(0.5)));
    longest.length = Metres(400);
    const CableAnswer far = *cable_answer(longest);
    REQUIRE(far.smallest);
    for (const CableSize& size : far.sizes)
        CHECK(size.keeps == (std::get<SquareMm>(size.size) >= std::get<SquareMm>(*far.smallest)));
    longest.length = Metres(40000);
    CHECK_FALSE(cable_answer(longest)->smallest);
}

TEST_CASE("18 AWG, printed at 6.385 ohm for 1000 ft: 60 W may be 386.6 ft away for 0.5 dB at 70.7 V") {
    const Result<CableAnswer> made = cable_answer(
        {.load = Watts(60), .length = Metres(100), .volts = Volts(70.7), .size = Gauge{18}, .limit = Decibels(0.5)});
    REQUIRE(made.ok());
    CHECK(made->asked->longest.value() / 0.3048 == doctest::Approx(386.556).epsilon(2e-4));
    CHECK(made->asked->pair.value() == doctest::Approx(2 * 100 / 304.8 * 6.385).epsilon(2e-4));
}

TEST_CASE("without a size both kinds are listed; figures no line has are refused") {
    CableQuestion question{.load = Watts(100), .length = Metres(100), .volts = Volts(70.7)};
    const CableAnswer made = *cable_answer(question);
    CHECK_FALSE(made.asked);
    CHECK(made.sizes.size() == 7 + 8);
    CHECK(in_english(statement_of(question, made).text).starts_with("Smallest size that keeps 1 dB: "));
    for (const double wrong : {0.0, -1.0, 1e9}) {
        question.load = Watts(wrong);
        REQUIRE_FALSE(cable_answer(question).ok());
        CHECK(in_english(cable_answer(question).refusal()).starts_with("Load "));
    }
    question.load = Watts(100);
    question.size = Gauge{77};
    CHECK_FALSE(cable_answer(question).ok());
}

TEST_CASE("a recorded cable is asked for with the figures of its record, not with those of its size") {
    CableQuestion question{.load = Watts(60), .length = Metres(40), .volts = Volts(100), .celsius = Celsius(45)};
    const auto pair_of = [&](const CableType& type) {
        const Result<RecordedCable> cable = recorded_cable(type, question.celsius);
        REQUIRE(cable.ok());
        question.recorded = *cable;
        return cable_answer(question)->asked->pair.value();
    };
    const double warm = 2 * 0.04 * (1 + 0.00393 * 25);
    CableType type;
    type.id = Id("k");
    type.name = "Old reel";
    type.ohm_per_km = OhmsPerKm(20);
    CHECK(pair_of(type) == doctest::Approx(20 * warm));
    CHECK(cable_answer(question)->sizes.size() == 7 + 8);  // of no size: both kinds beside it
    type.area_mm2 = SquareMm(1.5);
    CHECK(pair_of(type) == doctest::Approx(20 * warm));  // measured or printed, it goes before the size
    CHECK(cable_answer(question)->sizes.size() == 7);
    type.ohm_per_km.reset();
    CHECK(pair_of(type) == doctest::Approx(12.1 * warm));
    type.metal = CableMetal::cca;
    CHECK(pair_of(type) == doctest::Approx(12.1 * 1.59 * warm));
    const Statement said = statement_of(question, *cable_answer(question));
    CHECK(in_english(said.text).starts_with("60 W at 100 V over 40 m of Old reel: "));
    CHECK(in_english(said.why).find("on Old reel as recorded and other sizes in copper, at 45") != std::string::npos);
    type.area_mm2.reset();
    REQUIRE_FALSE(recorded_cable(type, Celsius(20)).ok());
    CHECK(in_english(recorded_cable(type, Celsius(20)).refusal()) ==
          "The resistance of Old reel is unknown. Record its gauge, cross-section or resistance.");
}
