// Who did what on which day, as far as visits tell.
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/message.h"
#include "core/sheet/view.h"

namespace tapwright::sheet {

// The day of a reading: its own, else its visit's; empty: not recorded.
std::string day_taken(const Job& job, const Reading& reading);

// The people of the visits on these days; "not recorded" where no visit names one.
Message people_of(const Job& job, const std::set<std::string>& days);

// Who recorded a field of some points and on which days: those of the log, and for points of which it knows nobody the
// day that the job names, with the people of its visits. How many are left without is said.
struct ByWhom {
    Message people;
    Message days;
};
ByWhom by_whom(const View& view, std::string_view field, const std::vector<std::uint32_t>& points,
               const std::optional<Date>& day_of_job);

// Days on which something was done.
class Days {
public:
    void add(const std::string& day) {
        if (!day.empty()) days_.insert(day);
    }
    Message people(const Job& job) const { return people_of(job, days_); }
    Message in_words() const;  // "8 Apr 2025", "8 Apr to 14 Oct 2025" by first and last, "not recorded"

private:
    std::set<std::string> days_;
};

}  // namespace tapwright::sheet
