#include "core/job/directory.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <optional>
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
}

TEST_CASE("a directory finds what a plain search finds, after any additions and removals") {
    std::mt19937 random(11);
    Directory directory;
    std::vector<std::optional<Id>> model;  // by place; nothing where an id was forgotten
    std::size_t present = 0;
    for (int step = 0; step < 20'000; ++step) {
        const Id id("i" + std::to_string(random() % 600));
        const auto at = std::find(model.begin(), model.end(), id);
        const auto found = directory.find(id);
        REQUIRE(found.has_value() == (at != model.end()));
        if (found) {
            REQUIRE(*found == static_cast<std::size_t>(at - model.begin()));
            if (random() % 2 == 0) continue;
            directory.forget(id);
            at->reset();
            --present;
        } else {
            directory.push_back(id);
            model.emplace_back(id);
            ++present;
        }
        if (random() % 500 != 0) continue;
        std::vector<Id> left;
        for (const auto& kept : model)
            if (kept) left.push_back(*kept);
        std::reverse(left.begin(), left.end());
        model.assign(left.begin(), left.end());
        directory.assign(std::move(left));
    }
    CHECK(present > 100);
    for (int i = 0; i < 600; ++i) {
        const Id id("i" + std::to_string(i));
        CHECK(directory.find(id).has_value() == (std::find(model.begin(), model.end(), id) != model.end()));
    }
}
