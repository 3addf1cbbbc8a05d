// Jobs at random, every step of them: the program and the oracle say the same, before and after a file.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "tests/oracle/random_story.h"

using namespace tapwright;
using namespace tapwright::oracle;

TEST_CASE("whatever happens to a job, the program and the oracle say the same of it") {
    CHECK(rc::check("the same figures", [] {
        const auto story = random_start();
        std::string told = story->exported();
        for (int step = 0; step < 12; ++step) {
            told += random_step(*story) + "\n";
            const std::string differences = story->differences();
            if (!differences.empty()) RC_FAIL(told + differences);
        }
    }));
}

TEST_CASE("a file takes all of it along") {
    CHECK(rc::check("exported and imported", [] {
        const auto story = random_story(12);
        const std::string differences = story->differences_imported();
        if (!differences.empty()) RC_FAIL(story->exported() + differences);
    }));
}

TEST_CASE("a file without what was expected is held against the record of today") {
    CHECK(rc::check("imported bare", [] {
        const auto story = random_story(12);
        const std::string differences = story->differences_bare();
        if (!differences.empty()) RC_FAIL(story->exported() + differences);
    }));
}
