// The person's settings as text, for a file or whatever keeps them.
#include "core/base/text.h"
#include "core/job/json.h"
#include "platform/system/settings.h"

namespace tapwright {
namespace {

std::size_t count_in(const Value& counts, std::string_view name) {
    const double* number = counts.find(name).number();
    constexpr double most = 1e12;
    return number && *number >= 0 && *number <= most ? static_cast<std::size_t>(*number) : 0;
}

Map map_of(const std::map<std::string, Settings::Copied>& copied) {
    Map map;
    for (const auto& [job, counts] : copied)
        if (is_utf8(job))
            map.emplace_back(job, Map{{"changes", static_cast<double>(counts.changes)},
                                      {"given_out", static_cast<double>(counts.given_out)}});
    return map;
}

}  // namespace

Result<Settings> settings_from(const std::string& text, const std::string& where) {
    Settings settings;
    const Result<Value> value = parse_json(text, where);
    const Message advice = Message("Fix or delete it. It holds only your name and screen settings.");
    if (!value) return Refusal{sentences({value.refusal().message, advice})};
    if (!value->map())
        return Refusal{sentences(
            {Message("{path} holds no settings; one JSON object is expected.", {{"path", code(where)}}), advice})};
    if (const std::string* person = value->find("person").text()) settings.person = *person;
    if (const std::string* volts = value->find("line_v").text()) settings.line_v = *volts;
    if (const std::string* theme = value->find("theme").text()) settings.theme = *theme;
    if (const double* scale = value->find("text_scale").number(); scale && *scale >= 1 && *scale <= 3)
        settings.text_scale = *scale;
    if (const std::string* language = value->find("language").text()) settings.language = *language;
    if (const List* recent = value->find("recent").list())
        for (const Value& entry : *recent)
            if (entry.text()) settings.recent.push_back(*entry.text());
    if (const Map* visits = value->find("visits").map())
        for (const auto& [job, visit] : *visits)
            if (visit.text()) settings.visits[job] = *visit.text();
    if (const Map* copied = value->find("copied").map())
        for (const auto& [job, counts] : *copied)
            settings.copied[job] = {count_in(counts, "changes"), count_in(counts, "given_out")};
    return settings;
}

std::string text_of(const Settings& settings) {
    List recent;
    for (const std::string& entry : settings.recent)
        if (is_utf8(entry)) recent.emplace_back(entry);
    Map visits;
    for (const auto& [job, visit] : settings.visits)
        if (is_utf8(job)) visits.emplace_back(job, visit);
    Map all{{"person", settings.person},         {"line_v", settings.line_v},     {"theme", settings.theme},
            {"text_scale", settings.text_scale}, {"language", settings.language}, {"recent", std::move(recent)},
            {"visits", std::move(visits)}};
    // A desktop keeps no jobs and says nothing of them.
    if (!settings.copied.empty()) all.emplace_back("copied", map_of(settings.copied));
    return pretty_json(all);
}

}  // namespace tapwright
