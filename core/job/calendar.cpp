// Days and moments as RFC 3339 writes them. Day arithmetic: the Gregorian rule (ISO 8601), counted from 1970-01-01.
#include <cstdint>

#include "core/job/records.h"

namespace tapwright {
namespace {

bool digits_at(std::string_view text, std::size_t at, std::size_t count) {
    if (at + count > text.size()) return false;
    for (std::size_t i = at; i < at + count; ++i)
        if (text[i] < '0' || text[i] > '9') return false;
    return true;
}

int number_at(std::string_view text, std::size_t at, std::size_t count) {
    int number = 0;
    for (std::size_t i = at; i < at + count; ++i) number = number * 10 + (text[i] - '0');
    return number;
}

bool is_leap(int year) {
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

int days_in(int year, int month) {
    static constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && is_leap(year) ? 29 : days[month - 1];
}

// Days from 1970-01-01 to the first day of `year`.
std::int64_t days_before(int year) {
    const std::int64_t y = year - 1;
    return y * 365 + y / 4 - y / 100 + y / 400 - 719162;
}

// Where the fraction of a second ends; text[19] is '.' or not.
std::size_t end_of_seconds(std::string_view text) {
    std::size_t at = 19;
    if (at < text.size() && text[at] == '.') {
        ++at;
        while (digits_at(text, at, 1)) ++at;
    }
    return at;
}

// "Z", or an offset such as "+02:00".
bool is_zone(std::string_view zone) {
    if (zone == "Z") return true;
    return zone.size() == 6 && (zone[0] == '+' || zone[0] == '-') && digits_at(zone, 1, 2) && zone[3] == ':' &&
           digits_at(zone, 4, 2) && number_at(zone, 1, 2) <= 23 && number_at(zone, 4, 2) <= 59;
}

int offset_minutes(std::string_view zone) {
    if (zone.size() != 6) return 0;
    const int minutes = number_at(zone, 1, 2) * 60 + number_at(zone, 4, 2);
    return zone[0] == '-' ? -minutes : minutes;
}

constexpr int minutes_of_day = 24 * 60;

}  // namespace

bool is_date(std::string_view text) {
    if (text.size() != 10 || !digits_at(text, 0, 4) || text[4] != '-' || !digits_at(text, 5, 2) || text[7] != '-' ||
        !digits_at(text, 8, 2))
        return false;
    const int year = number_at(text, 0, 4);
    const int month = number_at(text, 5, 2);
    const int day = number_at(text, 8, 2);
    return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= days_in(year, month);
}

bool is_time(std::string_view text) {
    if (text.size() < 20 || text.size() > 40 || !is_date(text.substr(0, 10)) || text[10] != 'T') return false;
    if (!digits_at(text, 11, 2) || text[13] != ':' || !digits_at(text, 14, 2) || text[16] != ':' ||
        !digits_at(text, 17, 2))
        return false;
    if (number_at(text, 11, 2) > 23 || number_at(text, 14, 2) > 59 || number_at(text, 17, 2) > 60) return false;
    const std::size_t at = end_of_seconds(text);
    if (at == 20) return false;  // a point without digits
    const std::string_view zone = text.substr(at);
    if (!is_zone(zone)) return false;
    if (number_at(text, 17, 2) < 60) return true;
    // A leap second: the last second of a day in UTC (RFC 3339, section 5.7).
    const int minute = number_at(text, 11, 2) * 60 + number_at(text, 14, 2) - offset_minutes(zone);
    return (minute + 1) % minutes_of_day == 0;
}

std::int64_t milliseconds(const Time& time) {
    const std::string_view text = time.text;
    const int year = number_at(text, 0, 4);
    const int month = number_at(text, 5, 2);
    std::int64_t days = days_before(year) + number_at(text, 8, 2) - 1;
    for (int m = 1; m < month; ++m) days += days_in(year, m);
    std::int64_t seconds = days * minutes_of_day * 60 + number_at(text, 11, 2) * 3600 + number_at(text, 14, 2) * 60 +
                           number_at(text, 17, 2);
    const std::size_t at = end_of_seconds(text);
    std::int64_t fraction = 0;
    std::int64_t place = 100;
    for (std::size_t i = 20; i < at; ++i, place /= 10) fraction += (text[i] - '0') * place;
    seconds -= std::int64_t{60} * offset_minutes(text.substr(at));
    return seconds * 1000 + fraction;
}

}  // namespace tapwright
