#include "core/sheet/next_check.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace tapwright::sheet {
namespace {

int days_in(int year, int month) {
    static constexpr std::array<int, 12> days = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month == 2 && leap ? 29 : days[static_cast<std::size_t>(month - 1)];
}

std::string digits(int number, std::size_t width) {
    const std::string text = std::to_string(number);
    return std::string(width > text.size() ? width - text.size() : 0, '0') + text;
}

// `date`: YYYY-MM-DD, as the field table lets in.
Date months_later(const Date& date, int months) {
    const int since =
        std::atoi(date.text.substr(0, 4).c_str()) * 12 + std::atoi(date.text.substr(5, 2).c_str()) - 1 + months;
    const int year = since / 12;
    const int month = since % 12 + 1;
    const int day = std::min(std::atoi(date.text.substr(8, 2).c_str()), days_in(year, month));
    return {digits(year, 4) + "-" + digits(month, 2) + "-" + digits(day, 2)};
}

bool is_check(const Visit& visit) {
    return visit.purpose == Purpose::commissioning || visit.purpose == Purpose::handover ||
           visit.purpose == Purpose::service;
}

}  // namespace

std::optional<Date> next_check(const Job& job) {
    const std::optional<int> months = job.info().check_months;
    std::optional<Date> last;
    for (const Visit& visit : job.all<Visit>())
        if (is_check(visit) && visit.date && (!last || *visit.date > *last)) last = visit.date;
    if (!months || !last) return std::nullopt;
    const Date next = months_later(*last, *months);
    return next.text.size() == 10 ? std::optional(next) : std::nullopt;  // beyond the year 9999
}

}  // namespace tapwright::sheet
