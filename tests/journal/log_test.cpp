#include "core/journal/log.h"

#include <doctest/doctest.h>

#include <functional>
#include <limits>

#include "core/words/words.h"
#include "tests/journal/copy.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

Batch sample() {
    Batch batch =
        draft(0x00000000000000abu, {op("point", "s12", "tap_w", "7.5", {{0xab, 1, 0}}), op("zone", "z1", "", "true")});
    batch.n = 2;
    batch.visit = "v1";
    batch.undoes = BatchAddress{0xab, 1};
    batch.prev = {sha256("one"), sha256("two")};
    std::sort(batch.prev.begin(), batch.prev.end());
    return batch;
}

}  // namespace

TEST_CASE("Addresses have one text each") {
    CHECK(address_text(BatchAddress{0xab, 12}) == "00000000000000ab/12");
    CHECK(address_text(OpAddress{0xfedcba9876543210u, 4294967295u, 0}) == "fedcba9876543210/4294967295/0");
    CHECK(batch_address_from("00000000000000ab/12") == BatchAddress{0xab, 12});
    const std::vector<OpAddress> two{{0xab, 1, 0}, {0xab, 1, 7}};
    CHECK(addresses_text(two) == "00000000000000ab/1/0 00000000000000ab/1/7");
    CHECK(addresses_from(addresses_text(two)) == two);
    CHECK(addresses_from("") == std::vector<OpAddress>{});
    for (const char* wrong :
         {"ab/12", "00000000000000AB/12", "00000000000000ab/0", "00000000000000ab/012", "00000000000000ab/4294967296",
          "00000000000000ab/", "0000000000000000/1", "00000000000000ab/-1", "00000000000000ab/1 ", "00000000000000ab"})
        CHECK_MESSAGE(!batch_address_from(wrong), wrong);
    for (const char* wrong : {"00000000000000ab/1", "00000000000000ab/1/0 ", " 00000000000000ab/1/0",
                              "00000000000000ab/1/0  00000000000000ab/1/1", "00000000000000ab/1/00", "x"})
        CHECK_MESSAGE(!addresses_from(wrong), wrong);
}

TEST_CASE("The hash is of the bytes docs/file-format.md names") {
    // Put together here by hand from the description, with its own length prefixes.
    const auto number = [](std::uint64_t n) {
        std::string bytes;
        for (int shift = 56; shift >= 0; shift -= 8) bytes += static_cast<char>(n >> shift);
        return bytes;
    };
    const auto framed = [&](const std::string& text) { return number(text.size()) + text; };
    const Batch batch = sample();
    std::string bytes = framed("tapwright batch 1") + framed("00000000000000ab") + number(2) + number(1) +
                        framed("Ana") + framed("v1") + framed("2024-05-03T14:30:00+02:00") +
                        framed("00000000000000ab/1") + number(2);
    for (const Digest& hash : batch.prev) bytes.append(hash.begin(), hash.end());
    bytes +=
        number(2) + framed("point") + framed("s12") + framed("tap_w") + framed("7.5") + framed("00000000000000ab/1/0");
    bytes += framed("zone") + framed("z1") + framed("") + framed("true") + framed("");
    CHECK(hex(hash_of(batch)) == hex(sha256(bytes)));
}

TEST_CASE("Every part of a batch is in its hash") {
    const Digest before = hash_of(sample());
    const std::vector<std::function<void(Batch&)>> changes{
        [](Batch& b) { b.writer = 0xac; },
        [](Batch& b) { b.n = 3; },
        [](Batch& b) { b.clock = 2; },
        [](Batch& b) { b.person = "Ann"; },
        [](Batch& b) { b.visit = ""; },
        [](Batch& b) { b.time = "2024-05-03T14:30:01+02:00"; },
        [](Batch& b) { b.undoes.reset(); },
        [](Batch& b) {
            b.undoes = BatchAddress{0xab, 2};
        },
        [](Batch& b) { b.prev.pop_back(); },
        [](Batch& b) { b.prev[0][31] ^= 1; },
        [](Batch& b) { std::swap(b.ops[0], b.ops[1]); },
        [](Batch& b) { b.ops.pop_back(); },
        [](Batch& b) { b.ops[0].kind = "poin", b.ops[0].id = "ts12"; },
        [](Batch& b) { b.ops[0].field = "tap_v"; },
        [](Batch& b) { b.ops[0].value = "7.50"; },
        [](Batch& b) { b.ops[0].parents.clear(); },
        [](Batch& b) { b.ops[0].parents[0].index = 1; },
    };
    for (std::size_t i = 0; i < changes.size(); ++i) {
        Batch batch = sample();
        changes[i](batch);
        CHECK_MESSAGE(hash_of(batch) != before, i);
    }
    Batch same = sample();
    same.hash = sha256("anything");
    CHECK(hash_of(same) == before);
}

TEST_CASE("A form no writer of ours makes is refused, saying where") {
    const auto refused = [](const std::function<void(Batch&)>& change) {
        Batch batch = sample();
        change(batch);
        const auto checked = check_form(batch);
        return checked ? std::string() : in_english(checked.refusal());
    };
    CHECK(check_form(sample()).ok());
    CHECK(
        refused([](Batch& b) { b.ops[1].id = "z 1"; }) ==
        "Change 00000000000000ab/2, part 1, has not the form of one. Its id is z 1; 1 to 40 of A-Z, a-z, 0-9, _ and - "
        "would be right.");
    const std::vector<std::function<void(Batch&)>> wrong{
        [](Batch& b) { b.writer = 0; },
        [](Batch& b) { b.n = 0; },
        [](Batch& b) { b.clock = -1; },
        [](Batch& b) { b.person = "\xff"; },
        [](Batch& b) { b.person = std::string(5000, 'a'); },
        [](Batch& b) { b.visit = "v 1"; },
        [](Batch& b) { b.time = std::string(41, '0'); },
        [](Batch& b) { std::swap(b.prev[0], b.prev[1]); },
        [](Batch& b) { b.prev[1] = b.prev[0]; },
        [](Batch& b) { b.ops.clear(); },
        [](Batch& b) { b.ops[0].kind = ""; },
        [](Batch& b) { b.ops[0].kind = "Point"; },
        [](Batch& b) { b.ops[0].id = ""; },
        [](Batch& b) { b.ops[0].id = std::string(41, 'a'); },
        [](Batch& b) { b.ops[0].field = "tap-w"; },
        [](Batch& b) { b.ops[0].value = ""; },
        [](Batch& b) { b.ops[0].value = "\"\xc3\""; },
        [](Batch& b) { b.ops[0].value = std::string((std::size_t{8} << 20) + 1, '1'); },
        [](Batch& b) { b.ops[1].value = "1"; },
        [](Batch& b) {
            b.ops[0].parents = {{1, 1, 1}, {1, 1, 0}};
        },
        [](Batch& b) {
            b.ops[0].parents = {{1, 1, 1}, {1, 1, 1}};
        },
    };
    for (std::size_t i = 0; i < wrong.size(); ++i) CHECK_MESSAGE(!refused(wrong[i]).empty(), i);
}

TEST_CASE("A clock set back never goes back") {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    CHECK(next_clock(0, 1000) == std::int64_t{1000} << 16);
    CHECK(next_clock(std::int64_t{1000} << 16, 1000) == (std::int64_t{1000} << 16) + 1);
    CHECK(next_clock(std::int64_t{2000} << 16, 1000) == (std::int64_t{2000} << 16) + 1);
    CHECK(next_clock(5, -1) == 6);
    CHECK(next_clock(0, most) > 0);
    CHECK(next_clock(most, 1000) == most);
}
