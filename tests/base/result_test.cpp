#include "core/base/result.h"

#include <doctest/doctest.h>

#include <memory>
#include <string>

using namespace tapwright;

namespace {

std::string said(const Refusal& refusal) {
    return refusal.message.pattern().text;
}

Result<int> half(int number) {
    if (number % 2 != 0) return Refusal{Message("That is an odd number.")};
    return number / 2;
}

Result<void> must_be_even(int number, int& asked) {
    ++asked;
    TAPWRIGHT_PASS(half(number));
    return done();
}

Result<int> quarter(int number) {
    TAPWRIGHT_TAKE(once, half(number));
    TAPWRIGHT_TAKE(twice, half(once));
    return twice;
}

Result<std::string> in_a_branch(bool pass, int number) {
    if (pass)
        TAPWRIGHT_PASS(half(number));
    else
        return std::string("not asked");
    return std::string("even");
}

// Something that cannot be copied: TAKE names it where it is.
Result<std::unique_ptr<int>> boxed(int number) {
    if (number < 0) return Refusal{Message("A box holds 0 or more.")};
    return std::make_unique<int>(number);
}

Result<int> unboxed(int number) {
    TAPWRIGHT_TAKE(box, boxed(number));
    return *box;
}

}  // namespace

TEST_CASE("a refusal is passed on by a function that returns another kind of result") {
    int asked = 0;
    CHECK(must_be_even(4, asked).ok());
    const Result<void> odd = must_be_even(3, asked);
    REQUIRE_FALSE(odd.ok());
    CHECK(said(odd.refusal()) == "That is an odd number.");
    CHECK(asked == 2);
}

TEST_CASE("a value is taken, or the refusal of the step that failed is returned") {
    CHECK(quarter(12).value() == 3);
    CHECK(said(quarter(7).refusal()) == "That is an odd number.");
    CHECK(said(quarter(6).refusal()) == "That is an odd number.");
    CHECK(unboxed(5).value() == 5);
    CHECK(said(unboxed(-1).refusal()) == "A box holds 0 or more.");
}

TEST_CASE("passing on is one statement, also between if and else") {
    CHECK(in_a_branch(true, 2).value() == "even");
    CHECK(in_a_branch(false, 1).value() == "not asked");
    CHECK_FALSE(in_a_branch(true, 1).ok());
}
