#include "core/journal/replica.h"

#include <doctest/doctest.h>

#include "core/words/words.h"
#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

// Two copies of a job that has loudspeaker s1 with tap_w 5 and label "A".
struct Two {
    Copy a{0xa};
    Copy b{0xb};
    BatchAddress made;

    Two() {
        made = a.commit({a.replica().making("point", "s1"), a.replica().setting("point", "s1", "tap_w", "5"),
                         a.replica().setting("point", "s1", "label", "\"A\"")});
        b = a.copied(0xb);
    }
    void exchange() {
        a.merge(b);
        b.merge(a);
        REQUIRE(a.content() == b.content());
    }
};

}  // namespace

TEST_CASE("The last to set a field, having seen what was there, is what it says") {
    Two two;
    two.a.set("s1", "tap_w", "7.5");
    two.exchange();
    two.b.set_clock(0);  // a clock years behind: what was seen decides, not the clock
    two.b.set("s1", "tap_w", "10");
    two.exchange();
    CHECK(two.a.value("s1", "tap_w") == "10");
    CHECK_FALSE(two.a.replica().has_conflicts());
    two.a.set("s1", "tap_w", "null");
    CHECK(two.a.value("s1", "tap_w") == "(none)");
    CHECK(two.a.replica().fields(0).size() == 1);
}

TEST_CASE("Two who did not see each other make a conflict; the greater clock stands in; choosing ends it") {
    Two two;
    two.a.set("s1", "tap_w", "7.5", "Ana");
    two.b.set_clock(50);
    two.b.set("s1", "tap_w", "10", "Ben");
    two.exchange();
    CHECK(two.a.value("s1", "tap_w") == "10");
    REQUIRE(two.a.replica().conflicts().size() == 1);
    const Conflict conflict = two.a.replica().conflicts().front();
    CHECK(conflict.form == Conflict::Form::values);
    CHECK(conflict.field == "tap_w");
    REQUIRE(conflict.heads.size() == 2);
    CHECK(conflict.heads[0].value == "7.5");
    CHECK(conflict.heads[1].value == "10");
    CHECK(conflict.heads[1].person == "Ben");
    CHECK(two.a.replica().parents_for("point", "s1", "tap_w").size() == 2);
    two.a.set("s1", "tap_w", "7.5");
    two.exchange();
    CHECK(two.b.value("s1", "tap_w") == "7.5");
    CHECK_FALSE(two.b.replica().has_conflicts());
}

TEST_CASE("Two who set the same value agree") {
    Two two;
    two.a.set("s1", "tap_w", "7.5");
    two.b.set("s1", "tap_w", "7.5");
    two.exchange();
    CHECK(two.a.value("s1", "tap_w") == "7.5");
    CHECK_FALSE(two.a.replica().has_conflicts());
}

TEST_CASE("At equal clocks the greater writer stands in, on every copy") {
    Two two;
    two.a.set_clock(9);
    two.b.set_clock(9);
    two.a.set("s1", "tap_w", "7.5");
    two.b.set("s1", "tap_w", "10");
    two.exchange();
    CHECK(two.a.value("s1", "tap_w") == "10");
}

TEST_CASE("Different fields of one record do not disturb each other") {
    Two two;
    two.a.set("s1", "tap_w", "7.5");
    two.b.set("s1", "label", "\"B\"");
    two.exchange();
    CHECK(two.a.value("s1", "tap_w") == "7.5");
    CHECK(two.a.value("s1", "label") == "\"B\"");
    CHECK_FALSE(two.a.replica().has_conflicts());
}

TEST_CASE("A removed record is gone, and gone for those who saw nothing else") {
    Two two;
    two.a.remove("s1");
    CHECK_FALSE(two.a.present("s1"));
    two.exchange();
    CHECK_FALSE(two.b.present("s1"));
    CHECK(two.b.replica().records().empty());
    CHECK_FALSE(two.b.replica().has_conflicts());
}

TEST_CASE("What one removes and another changes stands, with all its fields, until someone decides") {
    Two two;
    two.a.remove("s1", "Ana");
    two.b.set("s1", "tap_w", "7.5", "Ben");
    two.exchange();
    CHECK(two.a.present("s1"));
    CHECK(two.a.value("s1", "tap_w") == "7.5");
    CHECK(two.a.value("s1", "label") == "\"A\"");
    REQUIRE(two.a.replica().conflicts().size() == 1);
    const Conflict conflict = two.a.replica().conflicts().front();
    CHECK(conflict.form == Conflict::Form::removal);
    REQUIRE(conflict.heads.size() == 2);
    CHECK(conflict.heads[0].value == "null");
    CHECK(conflict.heads[1].field == "tap_w");
    CHECK(conflict.heads[1].person == "Ben");

    SUBCASE("keeping it is making it again") {
        two.a.commit({two.a.replica().making("point", "s1")});
        two.exchange();
        CHECK(two.b.value("s1", "tap_w") == "7.5");
    }
    SUBCASE("removing it once more covers the change too") {
        two.b.remove("s1");
        two.exchange();
        CHECK_FALSE(two.a.present("s1"));
    }
    CHECK_FALSE(two.a.replica().has_conflicts());
}

TEST_CASE("Two removals that together saw everything remove") {
    Two two;
    Copy c = two.a.copied(0xc);
    two.b.set("s1", "tap_w", "7.5");
    c.merge(two.b);
    two.a.remove("s1");
    c.remove("s1");
    two.a.merge(c);
    CHECK_FALSE(two.a.present("s1"));
}

TEST_CASE("A record removed by two and restored by one is there, and a conflict") {
    Two two;
    const BatchAddress removal = two.a.remove("s1");
    two.b.remove("s1");
    two.a.undo(removal);
    two.exchange();
    CHECK(two.a.present("s1"));
    REQUIRE(two.a.replica().conflicts().size() == 1);
    CHECK(two.a.replica().conflicts().front().form == Conflict::Form::removal);
}

TEST_CASE("Records come in the order they were made, not in which they arrived") {
    Two two;
    two.b.set_clock(5);
    two.b.make("early", "tap_w", "1");
    two.a.set_clock(20);
    two.a.make("late", "tap_w", "1");
    two.exchange();
    std::string order;
    for (const RecordNumber record : two.a.replica().records()) order += std::string(two.a.replica().id(record)) + " ";
    CHECK(order == "s1 early late ");
}

TEST_CASE("The same id in two kinds is two records") {
    Copy a(0xa);
    a.commit({a.replica().making("point", "x"), a.replica().making("zone", "x")});
    CHECK(a.replica().record_count() == 2);
    CHECK(a.replica().find("point", "x") != a.replica().find("zone", "x"));
    CHECK_FALSE(a.replica().find("room", "x"));
    CHECK_FALSE(a.replica().find("point", "y"));
}

TEST_CASE("Each touched record is told once") {
    Two two;
    Replica replica;
    const auto first = replica.absorb(two.a.last());
    REQUIRE(first.ok());
    CHECK(first->is_new);
    CHECK(first->touched == std::vector<RecordNumber>{0});
    const auto again = replica.absorb(two.a.last());
    REQUIRE(again.ok());
    CHECK_FALSE(again->is_new);
    CHECK(again->touched.empty());
}

TEST_CASE("What cannot be the next batch is refused and changes nothing") {
    Two two;
    two.a.set("s1", "tap_w", "7.5");
    two.a.set("s1", "tap_w", "10");
    const std::string before = two.b.content();
    Replica replica = two.b.replica();

    Batch skipped = two.a.log()[2];
    CHECK(in_english(replica.absorb(skipped).refusal()) ==
          "Change 000000000000000a/3 is here without the change before it, 000000000000000a/2.");
    Batch forged = two.a.log()[0];
    forged.hash[0] ^= 1;
    CHECK(in_english(replica.absorb(forged).refusal())
              .starts_with("Change 000000000000000a/1 is here already with other content"));
    Batch orphan = two.a.log()[1];
    orphan.ops[0].parents = {{0xd, 1, 0}};
    CHECK(in_english(replica.absorb(orphan).refusal()) ==
          "Change 000000000000000a/2 replaces 000000000000000d/1/0, which is not here.");
    orphan.ops[0].parents = {{0xa, 1, 3}};  // batch a/1 has ops 0 to 2
    CHECK_FALSE(replica.absorb(orphan).ok());
    orphan.ops[0].parents = {{0xa, 2, 0}};  // itself
    CHECK_FALSE(replica.absorb(orphan).ok());
    orphan.ops[0].parents.clear();
    orphan.undoes = BatchAddress{0xa, 2};
    CHECK_FALSE(replica.absorb(orphan).ok());
    CHECK(Copy::content_of(replica) == before);
}
