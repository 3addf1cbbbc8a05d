#include <doctest/doctest.h>

#include "core/units/parse.h"
#include "core/words/words.h"

using namespace tapwright;

TEST_CASE("a conductor's size is a gauge or a cross-section") {
    for (const char* text : {"18 AWG", "18 awg", "18AWG", "AWG 18", "awg18", "18 ga"}) {
        const Result<ConductorSize> size = parse_conductor_size(text);
        REQUIRE_MESSAGE(size.ok(), text);
        CHECK(std::get<Gauge>(*size) == Gauge{18});
    }
    for (const char* text : {"2.5 mm2", "2,5 mm²", " 2.5mm² "}) {
        const Result<ConductorSize> size = parse_conductor_size(text);
        REQUIRE_MESSAGE(size.ok(), text);
        CHECK(std::get<SquareMm>(*size) == SquareMm(2.5));
    }
}

TEST_CASE("a conductor's size that could be either, or is none, is refused in a sentence") {
    for (const char* text : {"", " ", "18", "2.5", "18.5 AWG", "-2 AWG", "41 AWG", "0 mm2", "-1 mm2", "18 AWG x",
                             "thick", "AWG", "1e999 mm2", "18 W"}) {
        const Result<ConductorSize> size = parse_conductor_size(text);
        REQUIRE_MESSAGE(!size.ok(), text);
        CHECK(in_english(size.refusal()).find("for example 18 AWG or 2.5 mm².") != std::string::npos);
    }
}
