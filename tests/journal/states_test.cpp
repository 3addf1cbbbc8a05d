// Names of states: what a sheet carries, and the way back from it.
#include "core/journal/states.h"

#include <doctest/doctest.h>

#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

States states_of(const Copy& copy) {
    States states;
    for (const Batch& batch : copy.log()) states.add(batch);
    return states;
}

void record_sheet(Copy& copy, const std::string& id) {
    copy.commit({op("sheet", id, "", "true"), op("sheet", id, "state", "\"x\"")});
}

}  // namespace

TEST_CASE("recording that a sheet was made does not change the state it is the sheet of") {
    Copy copy(0xa);
    copy.make("s1", "tap_w", "5");
    const StateMark before = states_of(copy).now();
    CHECK(before.position == 1);
    record_sheet(copy, "e1");
    record_sheet(copy, "e2");
    CHECK(states_of(copy).now().hash == before.hash);
    CHECK(states_of(copy).now().position == 1);
    CHECK(states_of(copy).is_record(2));
    copy.set("s1", "tap_w", "7.5");
    CHECK(states_of(copy).now().hash != before.hash);
    CHECK(states_of(copy).now().position == 2);
    // A batch that does more than record a sheet is a change.
    copy.commit({op("sheet", "e3", "", "true"), op("point", "s9", "", "true")});
    CHECK(states_of(copy).now().position == 3);
}

TEST_CASE("signing for a state does not change it, nor does what is put right in a sign-off") {
    Copy copy(0xa);
    copy.make("s1", "tap_w", "5");
    const StateMark before = states_of(copy).now();
    copy.commit({op("signoff", "o1", "", "true"), op("signoff", "o1", "name", "\"A\"")});
    copy.commit({op("signoff", "o1", "role", "\"owner\"")});
    record_sheet(copy, "e1");
    CHECK(states_of(copy).now().hash == before.hash);
    CHECK(states_of(copy).now().position == before.position);
    copy.set("s1", "tap_w", "7.5");
    CHECK(states_of(copy).now().hash != before.hash);
}

TEST_CASE("a state is found again by its hash or the code on the sheet, with what it held") {
    Copy copy(0xa);
    copy.make("s1", "tap_w", "5");
    copy.set("s1", "tap_w", "7.5");
    const StateMark then = states_of(copy).now();
    record_sheet(copy, "e1");
    copy.set("s1", "tap_w", "10");
    const States states = states_of(copy);
    for (const std::string& said : {hex(then.hash), short_code(then.hash)}) {
        const auto found = states.find(*state_digits(said)).found;
        REQUIRE(found);
        CHECK(found->state.hash == then.hash);
        CHECK(found->state.position == 2);
        CHECK(found->latest == 1);
        CHECK(found->holds[1]);
        CHECK_FALSE(found->holds[3]);
    }
    CHECK_FALSE(states.find("0123456789abcdef").found);
    CHECK_FALSE(states.find("0123456789abcdef").is_cut);
}

TEST_CASE("on a merged copy the state a sheet was made of is the one its author saw") {
    Copy a(0xa);
    a.make("s1", "tap_w", "5");
    Copy b = a.copied(0xb);
    b.set("s1", "label", "\"B\"");
    const StateMark of_b = states_of(b).now();
    record_sheet(b, "e1");
    a.set("s1", "tap_w", "7.5");
    a.merge(b);
    // In a's file a's change came before b's: no moment of that file is b's state.
    const States merged = states_of(a);
    const auto found = merged.find(*state_digits(short_code(of_b.hash))).found;
    REQUIRE(found);
    CHECK(found->state.hash == of_b.hash);
    CHECK(found->state.position == 2);
    CHECK_FALSE(found->holds[1]);
    // Both orders of merging are the same state.
    b.merge(a);
    CHECK(states_of(b).now().hash == merged.now().hash);
    CHECK(merged.now().position == 3);
}

TEST_CASE("with many changes side by side each state is found, or it is said that not all were looked at") {
    Copy base(0xa);
    base.make("s0", "tap_w", "5");
    Copy all = base.copied(0xb);
    std::vector<StateMark> marks;
    for (std::uint64_t writer = 1; writer <= 12; ++writer) {
        Copy side = base.copied(0x100 + writer);
        side.make("p" + std::to_string(writer), "tap_w", "5");
        all.merge(side);
        marks.push_back(states_of(all).now());
    }
    const States states = states_of(all);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const States::Search search = states.find(hex(marks[i].hash));
        REQUIRE(search.found);
        CHECK(search.found->state.position == i + 2);
        CHECK(search.found->state.hash == marks[i].hash);
    }
    // Twelve hashes are the latest state alone.
    CHECK(states.find(hex(marks[11].hash), 12).found);
    const States::Search cut = states.find(hex(marks[0].hash), 12);
    CHECK_FALSE(cut.found);
    CHECK(cut.is_cut);
}

TEST_CASE("a code is hexadecimal digits, in any case, with or without hyphens") {
    CHECK(*state_digits("3F9A-1c22-07be") == "3f9a1c2207be");
    CHECK(*state_digits("3f9a 1c22") == "3f9a1c22");
    CHECK_FALSE(state_digits("3f9a1c2"));
    CHECK_FALSE(state_digits("3f9a-1c22-07bg"));
    CHECK_FALSE(state_digits(std::string(65, 'a')));
}
