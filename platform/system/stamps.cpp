#include "platform/system/stamps.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <random>

#include "core/job/records.h"

namespace tapwright {
namespace {

constexpr std::int64_t first_second = 946684800;    // 2000-01-01T00:00:00Z
constexpr std::int64_t last_second = 253402300799;  // 9999-12-31T23:59:59Z: RFC 3339 has four digits for the year

// Whether RFC 3339 can say it: a year of four digits, and an offset of whole minutes below a day.
bool can_be_said(const std::tm& local) {
    const long offset = local.tm_gmtoff;
    return local.tm_year >= 1 - 1900 && local.tm_year <= 9999 - 1900 && offset % 60 == 0 &&
           std::labs(offset) < 24L * 60 * 60;
}

std::string rfc3339(std::time_t seconds, bool in_utc) {
    std::tm parts{};
    if (!in_utc) {
        tzset();  // localtime_r would go on with the zone of its first call
        in_utc = localtime_r(&seconds, &parts) == nullptr || !can_be_said(parts);
    }
    if (in_utc) gmtime_r(&seconds, &parts);
    char text[80];
    std::snprintf(text, sizeof text, "%04d-%02d-%02dT%02d:%02d:%02d", parts.tm_year + 1900, parts.tm_mon + 1,
                  parts.tm_mday, parts.tm_hour, parts.tm_min, parts.tm_sec);
    const long minutes = in_utc ? 0 : parts.tm_gmtoff / 60;
    char zone[48];
    std::snprintf(zone, sizeof zone, "%c%02ld:%02ld", minutes < 0 ? '-' : '+', std::labs(minutes) / 60,
                  std::labs(minutes) % 60);
    return std::string(text) + (minutes == 0 ? "Z" : zone);
}

std::uint64_t random_number() {
    std::random_device device;
    return std::uint64_t{device()} << 32 ^ device();
}

}  // namespace

Stamp make_stamp() {
    const auto now = std::chrono::system_clock::now().time_since_epoch();
    Stamp stamp;
    stamp.now_ms = std::chrono::duration_cast<std::chrono::milliseconds>(now).count();
    bool fixed = false;
    if (const char* epoch = std::getenv("SOURCE_DATE_EPOCH")) {
        char* end = nullptr;
        const long long seconds = std::strtoll(epoch, &end, 10);
        fixed = end != epoch && *end == '\0' && seconds >= 0 && seconds <= last_second;
        if (fixed) stamp.now_ms = seconds * 1000;
    }
    stamp.now_ms = std::clamp(stamp.now_ms, first_second * 1000, last_second * 1000 + 999);
    stamp.time = rfc3339(static_cast<std::time_t>(stamp.now_ms / 1000), fixed);
    stamp.seed = random_number();
    return stamp;
}

std::string in_local_time(const std::string& time) {
    if (!is_time(time)) return time;
    const std::int64_t ms = milliseconds(Time{time});
    const std::string local = rfc3339(static_cast<std::time_t>((ms - (ms % 1000 + 1000) % 1000) / 1000), false);
    return is_time(local) ? local : time;  // there may be no year for it but in the zone it was written in
}

}  // namespace tapwright
