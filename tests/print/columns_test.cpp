// Widths of columns, by themselves (common practice, no single source).
#include "platform/print/columns.h"

#include <doctest/doctest.h>

#include <random>

using tapwright::print::column_widths;
using tapwright::print::ColumnDemand;

TEST_CASE("Where all fit on one line, none gets less, and what is left goes by weight") {
    const auto widths = column_widths({{100, 80, 50, 1}, {50, 50, 50, 3}}, 250);
    CHECK(widths[0] == doctest::Approx(125));
    CHECK(widths[1] == doctest::Approx(125));
}

TEST_CASE("The column that lacks little is spared from breaking before a long one gets more") {
    const auto widths = column_widths({{400, 72, 40, 3}, {84, 72, 40, 1}}, 200);
    CHECK(widths[1] == doctest::Approx(84));
    CHECK(widths[0] == doctest::Approx(116));
}

TEST_CASE("Words break only where they cannot all be whole, and then the widest first") {
    const auto whole = column_widths({{400, 300, 60, 1}, {100, 90, 80, 1}}, 150);
    CHECK(whole[0] >= 60);
    CHECK(whole[1] >= 80);
    const auto broken = column_widths({{900, 900, 900, 1}, {30, 30, 30, 1}}, 150);
    CHECK(broken[1] == doctest::Approx(30));
    CHECK(broken[0] == doctest::Approx(120));
}

TEST_CASE("Whatever is asked, the widths add up to what there is and none is nothing") {
    for (unsigned seed = 1; seed <= 2000; ++seed) {
        CAPTURE(seed);
        std::mt19937 random(seed);
        std::vector<ColumnDemand> demands(1 + random() % 15);
        for (auto& demand : demands) {
            demand.word = static_cast<double>(random() % 200);
            demand.easy = demand.word + static_cast<double>(random() % 100);
            demand.natural = demand.easy + static_cast<double>(random() % 900);
            demand.weight = static_cast<double>(random() % 5) - 1;
        }
        const auto widths = column_widths(demands, 480);
        double sum = 0;
        for (std::size_t k = 0; k < widths.size(); ++k) {
            sum += widths[k];
            CHECK(widths[k] >= 0);
            if (demands[k].word > 0) CHECK(widths[k] > 0);
        }
        CHECK(sum == doctest::Approx(480));
    }
}
