#include "core/sheet/people.h"

#include "core/sheet/phrases.h"

namespace tapwright::sheet {

std::string day_taken(const Job& job, const Reading& reading) {
    if (reading.time) return day_of(reading.time->text).date;
    const Visit* visit = job.find<Visit>(reading.visit);
    return visit && visit->date ? visit->date->text : std::string();
}

namespace {

std::vector<std::string> names_on(const Job& job, const std::set<std::string>& days) {
    std::vector<std::string> names;
    for (const Visit& visit : job.all<Visit>())
        if (visit.date && visit.person && days.contains(visit.date->text)) names.push_back(*visit.person);
    return names;
}

constexpr std::size_t most_names = 4;

}  // namespace

Message people_of(const Job& job, const std::set<std::string>& days) {
    const std::vector<std::string> names = names_on(job, days);
    return names.empty() ? not_recorded() : names_in_words(names, most_names);
}

ByWhom by_whom(const View& view, std::string_view field, const std::vector<std::uint32_t>& points,
               const std::optional<Date>& day_of_job) {
    const auto known = view.options.recorders.find(field);
    std::vector<std::string> names;
    Days days;
    std::int64_t unknown = 0;
    for (const std::uint32_t at : points) {
        const std::string id = view.point(at).id.text();
        const bool is_known = known != view.options.recorders.end() && known->second.contains(id);
        if (!is_known) {
            ++unknown;
            continue;
        }
        const Recorder& recorder = known->second.at(id);
        if (!recorder.person.empty()) names.push_back(recorder.person);
        days.add(recorder.day);
    }
    if (unknown > 0 && day_of_job) {
        days.add(day_of_job->text);
        for (std::string& name : names_on(view.job, {day_of_job->text})) names.push_back(std::move(name));
        unknown = 0;
    }
    if (names.empty()) return {not_recorded(), days.in_words()};
    return {
        with_semicolons({names_in_words(names, most_names),
                         unknown == 0 ? Message() : plural("{count} not recorded", "{count} not recorded", unknown)}),
        days.in_words()};
}

Message Days::in_words() const {
    if (days_.empty()) return not_recorded();
    if (days_.size() == 1) return Day{*days_.begin()};
    return Message("{first} to {last}", {{"first", Day{*days_.begin()}}, {"last", Day{*days_.rbegin()}}});
}

}  // namespace tapwright::sheet
