#include "core/job/directory.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

using namespace tapwright;

TEST_CASE("an id is 1 to 40 plain characters") {
    CHECK(Id::is_valid("a"));
    CHECK(Id::is_valid("Zone_1-b"));
    CHECK(Id::is_valid(std::string(40, 'x')));
    for (const char* text : {"", "a b", "a.b", "a/b", "ä", "a\n", "a:"}) CHECK_FALSE(Id::is_valid(text));
    CHECK_FALSE(Id::is_valid(std::string(41, 'x')));
    CHECK_FALSE(Id::is_valid(std::string_view("a\0b", 3)));
}

TEST_CASE("an empty directory holds nothing") {
    const Directory directory;
    CHECK_FALSE(directory.find(Id("a")).has_value());
    CHECK_FALSE(directory.find(Id()).has_value());
    CHECK(directory.size() == 0);
}

TEST_CASE("a directory finds what a plain search finds, after any additions, insertions and removals") {
    std::mt19937 random(11);
    Directory directory;
    std::vector<Id> model;
    for (int step = 0; step < 4000; ++step) {
        const Id id("i" + std::to_string(random() % 600));
        const auto at = std::find(model.begin(), model.end(), id);
        const auto found = directory.find(id);
        REQUIRE(found.has_value() == (at != model.end()));
        if (found) {
            REQUIRE(*found == static_cast<std::size_t>(at - model.begin()));
            if (random() % 3 != 0) continue;
            directory.erase(*found);
            model.erase(at);
        } else if (random() % 2 == 0) {
            directory.push_back(id);
            model.push_back(id);
        } else {
            const std::size_t place = random() % (model.size() + 1);
            directory.insert(static_cast<std::uint32_t>(place), id);
            model.insert(model.begin() + static_cast<std::ptrdiff_t>(place), id);
        }
        REQUIRE(directory.size() == model.size());
    }
    for (std::size_t i = 0; i < model.size(); ++i) CHECK(directory.find(model[i]) == i);
}
