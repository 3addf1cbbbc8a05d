#include "core/base/sort.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>
#include <random>
#include <string>

using namespace tapwright;

namespace {

struct Item {
    int key = 0;
    int came = 0;
    std::string text{};
    bool operator==(const Item&) const = default;
};

}  // namespace

TEST_CASE("Lists come out as std::stable_sort puts them, equal ones in the order they had") {
    std::mt19937 chance(7);
    for (int run = 0; run < 300; ++run) {
        std::vector<Item> list(chance() % 60);
        for (std::size_t i = 0; i < list.size(); ++i)
            list[i] = {static_cast<int>(chance() % 9), static_cast<int>(i), std::string(chance() % 40, 'x')};
        std::vector<Item> expected = list;
        const auto before = [](const Item& a, const Item& b) { return a.key < b.key; };
        std::stable_sort(expected.begin(), expected.end(), before);
        sort_by(list, before);
        REQUIRE(list == expected);
    }
}

TEST_CASE("What can only be moved is sorted") {
    std::vector<std::unique_ptr<int>> list;
    for (int value : {4, 1, 3, 0, 2}) list.push_back(std::make_unique<int>(value));
    sort_by(list, [](const auto& a, const auto& b) { return *a > *b; });
    for (int at = 0; at < 5; ++at) CHECK(*list[static_cast<std::size_t>(at)] == 4 - at);
}
