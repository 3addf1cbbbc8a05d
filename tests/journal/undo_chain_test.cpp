// Undo after undo, redo and who may undo what.
#include <doctest/doctest.h>

#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

bool undo_latest(Copy& copy, const std::string& person = "Ana") {
    const auto latest = copy.replica().latest_undoable(person);
    if (latest) copy.undo(*latest, person);
    return latest.has_value();
}

bool redo_latest(Copy& copy, const std::string& person = "Ana") {
    const auto latest = copy.replica().latest_redoable(person);
    if (latest) copy.undo(*latest, person);
    return latest.has_value();
}

}  // namespace

TEST_CASE("One action after another is undone, and redone in the other direction") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.set("s1", "tap_w", "7.5");
    a.set("s1", "label", "\"A\"");
    a.set("s1", "tap_w", "10");
    CHECK_FALSE(redo_latest(a));

    CHECK(undo_latest(a));
    CHECK(a.value("s1", "tap_w") == "7.5");
    CHECK(undo_latest(a));
    CHECK(a.value("s1", "label") == "(none)");
    CHECK(undo_latest(a));
    CHECK(a.value("s1", "tap_w") == "5");
    CHECK(undo_latest(a));
    CHECK_FALSE(a.present("s1"));
    CHECK_FALSE(undo_latest(a));

    CHECK(redo_latest(a));
    CHECK(a.value("s1", "tap_w") == "5");
    CHECK(redo_latest(a));
    CHECK(a.value("s1", "tap_w") == "7.5");
    CHECK(redo_latest(a));
    CHECK(a.value("s1", "label") == "\"A\"");
    CHECK(redo_latest(a));
    CHECK(a.value("s1", "tap_w") == "10");
    CHECK_FALSE(redo_latest(a));

    for (int i = 0; i < 4; ++i) CHECK(undo_latest(a));
    CHECK_FALSE(a.present("s1"));
}

TEST_CASE("A new action ends redo") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.set("s1", "tap_w", "7.5");
    undo_latest(a);
    CHECK(a.replica().latest_redoable("Ana"));
    a.set("s1", "label", "\"A\"");
    CHECK_FALSE(a.replica().latest_redoable("Ana"));
}

TEST_CASE("Undo is of one's own actions") {
    Copy a(0xa);
    const BatchAddress mine = a.make("s1", "tap_w", "5", "Ana");
    const BatchAddress other = a.make("s2", "tap_w", "5", "Ben");
    CHECK(a.replica().latest_undoable("Ana") == mine);
    CHECK(a.replica().latest_undoable("Ben") == other);
    CHECK_FALSE(a.replica().latest_undoable("Cleo"));
    CHECK(a.replica().person_of(other) == "Ben");
    const BatchAddress undo = a.undo(mine, "Ana");
    CHECK(a.replica().is_undone(mine));
    CHECK(a.replica().undoes(undo) == mine);
    CHECK_FALSE(a.replica().latest_undoable("Ana"));
    a.undo(undo, "Ana");
    CHECK_FALSE(a.replica().is_undone(mine));
    CHECK(a.replica().latest_undoable("Ana") == mine);
}

TEST_CASE("Undo and redo in turn, many times, end where they should") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.set("s1", "tap_w", "7.5");
    for (int i = 0; i < 300; ++i) {
        REQUIRE(undo_latest(a));
        REQUIRE(a.value("s1", "tap_w") == "5");
        REQUIRE(redo_latest(a));
        REQUIRE(a.value("s1", "tap_w") == "7.5");
    }
    CHECK(undo_latest(a));
    CHECK(undo_latest(a));
    CHECK_FALSE(a.present("s1"));
}

TEST_CASE("A removal, undone and redone") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    a.remove("s1");
    for (int i = 0; i < 3; ++i) {
        CHECK(undo_latest(a));
        CHECK(a.value("s1", "tap_w") == "5");
        CHECK(redo_latest(a));
        CHECK_FALSE(a.present("s1"));
    }
    CHECK(undo_latest(a));
    CHECK(undo_latest(a));
    CHECK_FALSE(a.present("s1"));
    CHECK_FALSE(undo_latest(a));
}
