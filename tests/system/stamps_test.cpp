// Clock and chance: times that people read and programs trust, seeds that nobody has twice.
#include "platform/system/stamps.h"

#include <doctest/doctest.h>
#include <time.h>

#include <set>
#include <string>

#include "core/job/records.h"
#include "tests/system/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

std::int64_t clock_ms() {
    timespec now{};
    REQUIRE(::clock_gettime(CLOCK_REALTIME, &now) == 0);
    return std::int64_t{now.tv_sec} * 1000 + now.tv_nsec / 1'000'000;
}

// The stamp of a fixed second since 1970.
Stamp stamp_at(const std::string& seconds) {
    const Environment fixed("SOURCE_DATE_EPOCH", seconds);
    return make_stamp();
}

}  // namespace

TEST_CASE("a stamp is now, and its two times are the same second") {
    const Environment free("SOURCE_DATE_EPOCH");
    const std::int64_t before = clock_ms();
    const Stamp stamp = make_stamp();
    const std::int64_t after = clock_ms();
    CHECK(stamp.now_ms >= before);
    CHECK(stamp.now_ms <= after);
    REQUIRE(is_time(stamp.time));
    CHECK(milliseconds(Time{stamp.time}) == stamp.now_ms / 1000 * 1000);
    CHECK(stamp.date() == stamp.time.substr(0, 10));
}

TEST_CASE("local time carries the zone's offset, half hours and zones behind UTC included") {
    const Environment free("SOURCE_DATE_EPOCH");
    struct Zone {
        const char* rule;  // POSIX: what is added to local time to come to UTC, so the sign is the other way round
        const char* offset;
    };
    for (const Zone zone :
         {Zone{"UTC0", "Z"}, Zone{"<+01>-1", "+01:00"}, Zone{"<+0530>-5:30", "+05:30"}, Zone{"<+0545>-5:45", "+05:45"},
          Zone{"<-0330>3:30", "-03:30"}, Zone{"<-0030>0:30", "-00:30"}, Zone{"<-0930>9:30", "-09:30"},
          Zone{"<+14>-14", "+14:00"}, Zone{"<-12>12", "-12:00"}}) {
        CAPTURE(zone.rule);
        // Without a call to tzset(): a device carried into another zone while the program runs is told no more.
        const Environment here("TZ", zone.rule);
        const Stamp stamp = make_stamp();
        CHECK(stamp.time.ends_with(zone.offset));
        CHECK(stamp.time.size() == 19 + std::string(zone.offset).size());
        REQUIRE(is_time(stamp.time));
        CHECK(milliseconds(Time{stamp.time}) == stamp.now_ms / 1000 * 1000);
    }
    ::tzset();
}

TEST_CASE("a zone whose time RFC 3339 cannot write is told in UTC") {
    const Environment free("SOURCE_DATE_EPOCH");
    for (const char* rule : {"<X>-24:30", "<X>24:59", "<X>0:00:30", "<X>-5:30:15"}) {
        CAPTURE(rule);
        const Environment here("TZ", rule);
        const Stamp stamp = make_stamp();
        REQUIRE(is_time(stamp.time));
        CHECK(stamp.time.ends_with("Z"));
        CHECK(milliseconds(Time{stamp.time}) == stamp.now_ms / 1000 * 1000);
        CHECK(in_local_time("2026-03-02T08:00:00Z") == "2026-03-02T08:00:00Z");
    }
    {
        const Environment here("TZ", "<-12>12");
        CHECK(in_local_time("0001-01-01T00:00:00Z") == "0001-01-01T00:00:00Z");
    }
    {
        const Environment here("TZ", "<+14>-14");
        CHECK(in_local_time("9999-12-31T23:59:59Z") == "9999-12-31T23:59:59Z");
        CHECK(in_local_time("9999-12-31T23:59:59-02:00") == "9999-12-31T23:59:59-02:00");
        CHECK(in_local_time("0999-12-31T08:00:00Z") == "0999-12-31T22:00:00+14:00");
    }
    ::tzset();
}

TEST_CASE("SOURCE_DATE_EPOCH fixes the time, shown in UTC wherever one is") {
    const Environment here("TZ", "<+0530>-5:30");
    const Stamp stamp = stamp_at("1772438400");
    CHECK(stamp.time == "2026-03-02T08:00:00Z");
    CHECK(stamp.now_ms == 1772438400000);
    CHECK(stamp_at("253402300799").time == "9999-12-31T23:59:59Z");
}

TEST_CASE("what is no time of this convention is passed over") {
    for (const char* wrong :
         {"", "soon", "12 ", "1772438400.5", "-1", "253402300800", "9223372036854775807", "99999999999999999999999"}) {
        CAPTURE(wrong);
        const std::int64_t before = clock_ms();
        const Stamp stamp = stamp_at(wrong);
        CHECK(stamp.now_ms >= before);
        CHECK(is_time(stamp.time));
    }
}

TEST_CASE("a device that woke up in 1970 counts from 2000 on") {
    for (const char* early : {"0", "946684799"}) {
        CHECK(stamp_at(early).time == "2000-01-01T00:00:00Z");
        CHECK(stamp_at(early).now_ms == 946684800000);
    }
    CHECK(stamp_at("946684801").time == "2000-01-01T00:00:01Z");
}

TEST_CASE("no two stamps share a seed, those of the same fixed second neither") {
    const Environment fixed("SOURCE_DATE_EPOCH", "1772438400");
    std::set<std::uint64_t> seeds;
    std::uint64_t all = 0;
    for (int i = 0; i < 1000; ++i) {
        const std::uint64_t seed = make_stamp().seed;
        seeds.insert(seed);
        all |= seed;
    }
    CHECK(seeds.size() == 1000);
    CHECK(all == ~std::uint64_t{0});  // every bit takes part
}

TEST_CASE("a moment kept elsewhere is told in the time of where the device is") {
    const Environment here("TZ", "<+0530>-5:30");
    CHECK(in_local_time("2026-03-02T08:00:00Z") == "2026-03-02T13:30:00+05:30");
    CHECK(in_local_time("2026-03-01T23:30:00.25+01:00") == "2026-03-02T04:00:00+05:30");
    CHECK(in_local_time("1969-12-31T23:59:59.5Z") == "1970-01-01T05:29:59+05:30");
    CHECK(in_local_time("not a time") == "not a time");
}
