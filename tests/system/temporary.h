// A folder that is gone when the test is over, files in it, and an environment that is put back.
#pragma once

#include <doctest/doctest.h>
#include <stdlib.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <random>
#include <string>
#include <string_view>

namespace tapwright::test {

class TemporaryFolder {
public:
    TemporaryFolder() {
        std::random_device device;
        path_ = std::filesystem::temp_directory_path() /
                ("tapwright-test-" + std::to_string(device()) + std::to_string(device()));
        std::filesystem::create_directories(path_);
    }
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;
    ~TemporaryFolder() {
        std::error_code error;
        std::filesystem::remove_all(path_, error);
    }

    const std::filesystem::path& path() const { return path_; }
    std::string file(std::string_view name) const { return (path_ / name).string(); }
    // How many things lie in it, folders included.
    std::size_t count() const {
        const auto all = std::filesystem::directory_iterator(path_);
        return static_cast<std::size_t>(std::distance(begin(all), end(all)));
    }

private:
    std::filesystem::path path_;
};

inline std::string bytes_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    REQUIRE_MESSAGE(in.good(), path);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

inline void put(const std::string& path, std::string_view bytes) {
    std::ofstream out(path, std::ios::binary);
    out << bytes;
    REQUIRE_MESSAGE(out.good(), path);
}

inline bool has(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

// One variable of the environment, as it was again afterwards.
class Environment {
public:
    Environment(const char* name, const std::string& value) : Environment(name) {
        REQUIRE(::setenv(name, value.c_str(), 1) == 0);
    }
    // Without the variable.
    explicit Environment(const char* name) : name_(name) {
        if (const char* value = std::getenv(name)) before_ = value;
        REQUIRE(::unsetenv(name) == 0);
    }
    Environment(const Environment&) = delete;
    Environment& operator=(const Environment&) = delete;
    ~Environment() {
        if (before_)
            ::setenv(name_, before_->c_str(), 1);
        else
            ::unsetenv(name_);
    }

private:
    const char* name_;
    std::optional<std::string> before_;
};

}  // namespace tapwright::test
