// The settings of the person: kept, found again, and never overwritten where they cannot be read.
#include "platform/system/settings.h"

#include <doctest/doctest.h>

#include <filesystem>
#include <string>

#include "core/words/words.h"
#include "tests/system/temporary.h"

using namespace tapwright;
using namespace tapwright::test;

namespace {

namespace fs = std::filesystem;

bool equal(const Settings& a, const Settings& b) {
    return a.person == b.person && a.theme == b.theme && a.text_scale == b.text_scale && a.recent == b.recent &&
           a.visits == b.visits;
}

// A configuration folder of its own, with `text` as the settings file.
class Configuration {
public:
    Configuration() = default;
    explicit Configuration(std::string_view text) {
        fs::create_directories(fs::path(settings_path()).parent_path());
        put(settings_path(), text);
    }
    const TemporaryFolder folder;

private:
    const Environment environment_{"XDG_CONFIG_HOME", folder.path().string()};
};

}  // namespace

TEST_CASE("settings lie in the configuration folder: XDG_CONFIG_HOME, else .config at home") {
    const Environment home("HOME", "/home/ada");
    {
        const Environment configured("XDG_CONFIG_HOME", "/etc/ada");
        CHECK(settings_path() == "/etc/ada/tapwright/settings.json");
    }
    for (const char* unset : {"", "relative/folder"}) {
        CAPTURE(unset);
        const Environment configured("XDG_CONFIG_HOME", unset);
        CHECK(settings_path() == "/home/ada/.config/tapwright/settings.json");
    }
    const Environment configured("XDG_CONFIG_HOME");
    CHECK(settings_path() == "/home/ada/.config/tapwright/settings.json");
}

TEST_CASE("where nothing was ever kept the defaults hold, and looking makes no file") {
    const Configuration configuration;
    const Result<Settings> settings = load_settings();
    REQUIRE(settings.ok());
    CHECK(equal(*settings, Settings{}));
    CHECK(settings->text_scale == 1);
    CHECK(configuration.folder.count() == 0);
}

TEST_CASE("what was kept is found again, the folder made on the way") {
    const Configuration configuration;
    Settings settings;
    settings.person = "Ada \"the ladder\" Löwe\n";
    settings.theme = "night";
    settings.text_scale = 1.25;
    settings.recent = {"/jobs/mill house.tapjob", "/jobs/水車小屋.tapjob"};
    settings.visits = {{"/jobs/mill house.tapjob", "v-1"}, {"/jobs/b.tapjob", "v-2"}};
    REQUIRE(save_settings(settings).ok());
    Result<Settings> loaded = load_settings();
    REQUIRE(loaded.ok());
    CHECK(equal(*loaded, settings));

    settings.recent.clear();
    settings.visits.clear();
    settings.person.clear();
    REQUIRE(save_settings(settings).ok());
    loaded = load_settings();
    REQUIRE(loaded.ok());
    CHECK(equal(*loaded, settings));
    CHECK(configuration.folder.count() == 1);
}

TEST_CASE("the path of a job may be bytes that are no text: it is left out, and the rest is kept") {
    const Configuration configuration;
    Settings settings;
    settings.person = "Ada";
    settings.recent = {"/jobs/m\xfchle.tapjob", "/jobs/mill.tapjob"};
    settings.visits = {{"/jobs/m\xfchle.tapjob", "v-1"}, {"/jobs/mill.tapjob", "v-2"}};
    REQUIRE(save_settings(settings).ok());
    const Result<Settings> loaded = load_settings();
    REQUIRE(loaded.ok());
    CHECK(loaded->person == "Ada");
    CHECK(loaded->recent == std::vector<std::string>{"/jobs/mill.tapjob"});
    CHECK(loaded->visits == std::map<std::string, std::string>{{"/jobs/mill.tapjob", "v-2"}});
}

TEST_CASE("a damaged settings file is a sentence that says what it holds, and stays as it is") {
    for (const char* damaged :
         {"", "{\"person\": \"Ada\"", "[]", "\"Ada\"", "{\"person\": 1, \"person\": 2}", "\xff"}) {
        CAPTURE(damaged);
        const Configuration configuration(damaged);
        const Result<Settings> settings = load_settings();
        REQUIRE_FALSE(settings.ok());
        CHECK(has(in_english(settings.refusal()), settings_path()));
        CHECK(has(in_english(settings.refusal()), "It holds only your name and screen settings."));
        CHECK(bytes_of(settings_path()) == damaged);
    }
}

TEST_CASE("a value of another form, as a newer program may write it, leaves its default and harms no other") {
    const Configuration configuration(
        R"({"person": "Ada", "theme": 3, "text_scale": 99, "recent": ["/a", 1, null], "visits": {"/a": "v-1", "/b": 2},
            "colours": {"day": "blue"}})");
    const Result<Settings> settings = load_settings();
    REQUIRE(settings.ok());
    CHECK(settings->person == "Ada");
    CHECK(settings->theme == "");
    CHECK(settings->text_scale == 1);
    CHECK(settings->recent == std::vector<std::string>{"/a"});
    CHECK(settings->visits == std::map<std::string, std::string>{{"/a", "v-1"}});
}

TEST_CASE("where a folder or a file is in the way of the settings, a sentence says so") {
    const Configuration configuration;
    fs::create_directories(settings_path());
    CHECK_FALSE(load_settings().ok());
    CHECK_FALSE(save_settings(Settings{}).ok());
    CHECK(fs::is_directory(settings_path()));

    fs::remove_all(configuration.folder.file("tapwright"));
    put(configuration.folder.file("tapwright"), "a file");
    CHECK(load_settings().ok());  // nothing was kept there
    const Result<void> saved = save_settings(Settings{});
    REQUIRE_FALSE(saved.ok());
    CHECK(
        has(in_english(saved.refusal()), "The folder " + configuration.folder.file("tapwright") + " cannot be made: "));
    CHECK(bytes_of(configuration.folder.file("tapwright")) == "a file");
}
