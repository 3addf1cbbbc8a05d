#include "platform/system/settings.h"

#include <cstdlib>
#include <filesystem>

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
    const std::string path = settings_path();
    if (!file_exists(path)) return Settings();
    const Result<std::string> text = read_file(path, 1 << 20);
    if (!text) return text.refusal();
    return settings_from(*text, path);
}

Result<void> save_settings(const Settings& settings) {
    const std::string path = settings_path();
    TAPWRIGHT_PASS(make_folder(std::filesystem::path(path).parent_path().string()));
    return write_file(path, text_of(settings));
}

}  // namespace tapwright
