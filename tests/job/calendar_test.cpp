// Days and moments. Instants: RFC 3339, section 5.8, and POSIX.1 (2018, 4.16: seconds since the Epoch).
#include <doctest/doctest.h>

#include "core/job/records.h"

using namespace tapwright;

TEST_CASE("days are those of the Gregorian calendar (ISO 8601)") {
    for (const char* day : {"2024-02-29", "2000-02-29", "1999-12-31", "0001-01-01", "9999-12-31", "2023-04-30"})
        CHECK_MESSAGE(is_date(day), day);
    for (const char* day : {"2023-02-29", "1900-02-29", "2100-02-29", "2023-04-31", "2023-00-10", "2023-13-01",
                            "2023-01-00", "2023-01-32", "0000-01-01", "2023-1-1", "2023/01/01", "20230101", "",
                            "2023-01-01 ", " 2023-01-01", "2023-01-0a", "-023-01-01", "2023-01-01T", "٢٠٢٣-01-01"})
        CHECK_MESSAGE(!is_date(day), day);
}

TEST_CASE("times are those of RFC 3339, its examples among them") {
    for (const char* time :
         {"1985-04-12T23:20:50.52Z", "1996-12-19T16:39:57-08:00", "1990-12-31T23:59:60Z", "1990-12-31T15:59:60-08:00",
          "1937-01-01T12:00:27.87+00:20",  // the five of section 5.8
          "2024-02-29T00:00:00-00:00", "2024-06-01T12:00:00+14:00", "2024-06-01T12:00:00.123456789Z"})
        CHECK_MESSAGE(is_time(time), time);
    for (const char* time : {"",
                             "2024-06-01",
                             "2024-06-01T12:00:00",
                             "2024-06-01T12:00Z",
                             "2024-06-01 12:00:00Z",
                             "2024-06-01t12:00:00Z",
                             "2024-06-01T12:00:00z",
                             "2024-06-01T24:00:00Z",
                             "2024-06-01T12:60:00Z",
                             "2024-06-01T12:00:61Z",
                             "2024-06-01T12:00:00.Z",
                             "2024-06-01T12:00:00+24:00",
                             "2024-06-01T12:00:00+02:60",
                             "2024-06-01T12:00:00+0200",
                             "2024-06-01T12:00:00+02",
                             "2024-06-01T12:00:00 Z",
                             "2024-06-01T12:00:00ZZ",
                             "2023-02-29T12:00:00Z",
                             "2024-06-01T12:00:00,5Z",
                             "2024-06-01T1:00:00Z",
                             "2024-06-01T12:00:00.1234567890123456789012Z"})
        CHECK_MESSAGE(!is_time(time), time);
}

TEST_CASE("a leap second is the last of a day in UTC, nothing else") {
    CHECK(is_time("2016-12-31T23:59:60Z"));
    CHECK(is_time("2017-01-01T01:59:60+02:00"));
    CHECK_FALSE(is_time("2016-12-31T12:00:60Z"));
    CHECK_FALSE(is_time("2016-12-31T23:59:60+02:00"));
}

TEST_CASE("moments are milliseconds since 1970") {
    const auto at = [](const char* text) { return milliseconds(Time{text}); };
    CHECK(at("1970-01-01T00:00:00Z") == 0);
    CHECK(at("1970-01-01T00:00:00.001Z") == 1);
    CHECK(at("1969-12-31T23:59:59Z") == -1000);
    CHECK(at("1970-01-01T02:00:00+02:00") == 0);
    CHECK(at("1969-12-31T16:00:00-08:00") == 0);
    CHECK(at("2001-09-09T01:46:40Z") == 1'000'000'000'000);
    CHECK(at("2009-02-13T23:31:30Z") == 1'234'567'890'000);
    CHECK(at("2038-01-19T03:14:07Z") == 2'147'483'647'000);  // the last second of a signed 32-bit clock
    CHECK(at("2000-02-29T12:00:00Z") == 951'825'600'000);
    CHECK(at("2000-03-01T00:00:00Z") - at("2000-02-28T00:00:00Z") == 2 * 86'400'000);
    CHECK(at("1900-03-01T00:00:00Z") - at("1900-02-28T00:00:00Z") == 86'400'000);
    CHECK(at("1996-12-19T16:39:57-08:00") == at("1996-12-20T00:39:57Z"));  // RFC 3339: the same moment
    CHECK(at("1990-12-31T23:59:60Z") == at("1990-12-31T15:59:60-08:00"));
    CHECK(at("1937-01-01T12:00:27.87+00:20") == at("1937-01-01T11:40:27.870Z"));
    CHECK(at("2024-06-01T12:00:00.123999Z") - at("2024-06-01T12:00:00Z") == 123);
    CHECK(at("0001-01-01T00:00:00Z") == -62'135'596'800'000);
    CHECK(at("9999-12-31T23:59:59Z") == 253'402'300'799'000);
}

TEST_CASE("moments keep the order of the days, over four centuries") {
    std::int64_t last = milliseconds(Time{"1899-12-31T00:00:00Z"});
    for (int year = 1900; year < 2300; ++year)
        for (int month = 1; month <= 12; ++month)
            for (int day = 1; day <= 31; ++day) {
                char text[40];
                std::snprintf(text, sizeof text, "%04d-%02d-%02dT00:00:00Z", year, month, day);
                if (!is_time(text)) continue;
                const std::int64_t now = milliseconds(Time{text});
                REQUIRE_MESSAGE(now - last == 86'400'000, text);
                last = now;
            }
}
