#include "platform/system/settings.h"

#include <cstdlib>
#include <filesystem>

#include "core/base/text.h"
#include "core/job/json.h"
#include "platform/system/files.h"

namespace tapwright {

std::string settings_path() {
    const char* configured = std::getenv("XDG_CONFIG_HOME");
    const char* home = std::getenv("HOME");
    const std::filesystem::path base = configured && *configured == '/' ? std::filesystem::path(configured)
                                       : home && *home                  ? std::filesystem::path(home) / ".config"
                                                                        : std::filesystem::path(".");
    return (base / "tapwright" / "settings.json").string();
}

Result<Settings> load_settings() {
    Settings settings;
    const std::string path = settings_path();
    if (!file_exists(path)) return settings;
    const Result<std::string> text = read_file(path, 1 << 20);
    if (!text) return text.refusal();
    const Result<Value> value = parse_json(*text, path);
    const Message advice = Message("Fix or delete it. It holds only your name and screen settings.");
    if (!value) return Refusal{sentences({value.refusal().message, advice})};
    if (!value->map())
        return Refusal{sentences(
            {Message("{path} holds no settings; one JSON object is expected.", {{"path", code(path)}}), advice})};
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
    return settings;
}

Result<void> save_settings(const Settings& settings) {
    const std::string path = settings_path();
    TAPWRIGHT_PASS(make_folder(std::filesystem::path(path).parent_path().string()));
    List recent;
    for (const std::string& entry : settings.recent)
        if (is_utf8(entry)) recent.emplace_back(entry);
    Map visits;
    for (const auto& [job, visit] : settings.visits)
        if (is_utf8(job)) visits.emplace_back(job, visit);
    return write_file(path, pretty_json(Map{{"person", settings.person},
                                            {"line_v", settings.line_v},
                                            {"theme", settings.theme},
                                            {"text_scale", settings.text_scale},
                                            {"language", settings.language},
                                            {"recent", std::move(recent)},
                                            {"visits", std::move(visits)}}));
}

}  // namespace tapwright
