#include "core/sheet/people.h"

#include "core/sheet/phrases.h"

namespace tapwright::sheet {

std::string day_taken(const Job& job, const Reading& reading) {
    if (reading.time) return day_of(reading.time->text).date;
    const Visit* visit = job.find<Visit>(reading.visit);
    return visit && visit->date ? visit->date->text : std::string();
}

Message people_of(const Job& job, const std::set<std::string>& days) {
    std::vector<std::string> names;
    for (const Visit& visit : job.all<Visit>())
        if (visit.date && visit.person && days.contains(visit.date->text)) names.push_back(*visit.person);
    return names.empty() ? not_recorded() : names_in_words(names, 4);
}

Message Days::in_words() const {
    if (days_.empty()) return not_recorded();
    if (days_.size() == 1) return Day{*days_.begin()};
    return Message("{first} to {last}", {{"first", Day{*days_.begin()}}, {"last", Day{*days_.rbegin()}}});
}

}  // namespace tapwright::sheet
