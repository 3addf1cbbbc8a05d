#include "core/journal/undo.h"

#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

TEST_CASE("Undo of a setting restores what it replaced") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    const BatchAddress change = a.set("s1", "tap_w", "7.5");
    a.undo(change);
    CHECK(a.value("s1", "tap_w") == "5");
}

TEST_CASE("Undo of a first value clears it") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.undo(a.set("s1", "label", "\"A\""));
    CHECK(a.value("s1", "label") == "(none)");
}

TEST_CASE("Undo of an addition removes it, and redo brings it back whole") {
    Copy a(0xa);
    const BatchAddress made = a.make("s1", "tap_w", "5");
    const BatchAddress undo = a.undo(made);
    CHECK_FALSE(a.present("s1"));
    a.undo(undo);
    CHECK(a.value("s1", "tap_w") == "5");
}

TEST_CASE("Undo of a removal brings the record back with its fields") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    const BatchAddress removal = a.remove("s1");
    const auto plan = a.plan(removal);
    REQUIRE(plan.ok());
    REQUIRE(plan->ops.size() == 1);
    CHECK(plan->ops[0] == op("point", "s1", "", "true", {{0xa, 2, 0}}));
    a.undo(removal);
    CHECK(a.value("s1", "tap_w") == "5");
}

TEST_CASE("What was changed since stays, and the plan says by whom") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    const BatchAddress mine = a.set("s1", "tap_w", "7.5", "Ana");
    a.set("s1", "tap_w", "10", "Ben");
    const auto plan = a.plan(mine);
    REQUIRE(plan.ok());
    CHECK(plan->ops.empty());
    REQUIRE(plan->kept.size() == 1);
    CHECK(plan->kept[0].id == "s1");
    CHECK(plan->kept[0].field == "tap_w");
    CHECK(plan->kept[0].person == "Ben");
}

TEST_CASE("What can be restored is, the rest is listed") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    const BatchAddress mine = a.commit(
        {a.replica().setting("point", "s1", "tap_w", "7.5"), a.replica().setting("point", "s1", "label", "\"A\"")});
    a.set("s1", "tap_w", "10", "Ben");
    const auto plan = a.plan(mine);
    REQUIRE(plan.ok());
    REQUIRE(plan->ops.size() == 1);
    CHECK(plan->ops[0].field == "label");
    REQUIRE(plan->kept.size() == 1);
    CHECK(plan->kept[0].field == "tap_w");
    CHECK(plan->kept[0].person == "Ben");
}

TEST_CASE("An addition someone else has added to is not undone") {
    Copy a(0xa);
    const BatchAddress made = a.make("s1", "tap_w", "5");
    a.set("s1", "label", "\"Hall\"", "Ben");
    const auto plan = a.plan(made);
    REQUIRE(plan.ok());
    CHECK(plan->ops.empty());
    REQUIRE(plan->kept.size() == 1);
    CHECK(plan->kept[0].field == "");
    CHECK(plan->kept[0].person == "Ben");
    CHECK(a.present("s1"));
}

TEST_CASE("Undoing a choice brings all heads back, standing as before") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    Copy b = a.copied(0xb);
    b.set_clock(50);
    a.set("s1", "tap_w", "7.5");
    b.set("s1", "tap_w", "10");
    a.merge(b);
    a.set_clock(60);
    const BatchAddress choice = a.set("s1", "tap_w", "7.5");
    const BatchAddress undo = a.undo(choice);
    CHECK(a.replica().heads(0, "tap_w").size() == 2);
    CHECK(a.replica().conflicts().size() == 1);
    CHECK(a.value("s1", "tap_w") == "10");
    a.undo(undo);
    CHECK(a.value("s1", "tap_w") == "7.5");
    CHECK_FALSE(a.replica().has_conflicts());
    CHECK(a.replica().heads(0, "tap_w").size() == 1);
}

TEST_CASE("Undo restores mine beside what another did meanwhile") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    Copy b = a.copied(0xb);
    const BatchAddress mine = a.set("s1", "tap_w", "7.5");
    b.set("s1", "tap_w", "10");
    a.merge(b);
    a.undo(mine);
    const auto heads = a.replica().heads(0, "tap_w");
    REQUIRE(heads.size() == 2);
    CHECK(heads[0].value == "10");
    CHECK(heads[1].value == "5");
}

TEST_CASE("Undoing 'keep it' brings the conflict of removal and change back") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    Copy b = a.copied(0xb);
    a.remove("s1");
    b.set("s1", "tap_w", "7.5");
    a.merge(b);
    const std::size_t conflicts = a.replica().conflicts().size();
    REQUIRE(conflicts == 1);
    const BatchAddress keep = a.commit({a.replica().making("point", "s1")});
    CHECK_FALSE(a.replica().has_conflicts());
    a.undo(keep);
    REQUIRE(a.replica().conflicts().size() == 1);
    CHECK(a.replica().conflicts()[0].form == Conflict::Form::removal);
    CHECK(a.replica().conflicts()[0].heads.size() == 2);

    const BatchAddress removal = a.remove("s1");
    CHECK_FALSE(a.present("s1"));
    a.undo(removal);
    CHECK(a.present("s1"));
    CHECK(a.replica().conflicts().size() == 1);
}

TEST_CASE("A failing lookup is passed on, not planned around") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.set("s1", "tap_w", "7.5");
    const auto plan =
        plan_undo(a.replica(), a.last(), [](OpAddress) { return Result<Op>(Refusal{Message("The disk is gone.")}); });
    REQUIRE_FALSE(plan.ok());
    CHECK(in_english(plan.refusal()) == "The disk is gone.");
}
