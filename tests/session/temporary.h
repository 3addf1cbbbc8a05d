// A folder that is gone when the test is over, and stamps that count.
#pragma once

#include <filesystem>
#include <random>
#include <string>

#include "core/session/session.h"

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
    std::string file(const std::string& name) const { return (path_ / name).string(); }
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

// A stamp a second later than the one before, with the next seed.
class Clock {
public:
    Stamp next() {
        ++count_;
        const std::int64_t minute = count_ / 60;
        char time[40];
        std::snprintf(time, sizeof time, "2026-03-02T%02d:%02d:%02dZ", static_cast<int>(8 + minute / 60 % 12),
                      static_cast<int>(minute % 60), static_cast<int>(count_ % 60));
        return {time, 1772438400000 + count_ * 1000, static_cast<std::uint64_t>(count_) * 7919};
    }

private:
    std::int64_t count_ = 0;
};

inline Change add(Kind kind, const std::string& id, Map fields) {
    return {ChangeOp::add, kind, id.empty() ? Id() : Id(id), std::move(fields)};
}
inline Change set(Kind kind, const std::string& id, Map fields) {
    return {ChangeOp::set, kind, Id(id), std::move(fields)};
}
inline Change remove(Kind kind, const std::string& id) {
    return {ChangeOp::remove, kind, Id(id), {}};
}
inline Command command(ChangeList changes) {
    return {.changes = std::move(changes), .fill_in = true, .place = {}};
}

// A small system in an invented house: one amplifier, one zone of 100 W, a type with taps of 2.5, 5 and 10 W, two
// loudspeakers on 5 W, the second fed from the first.
inline ChangeList small_system() {
    return {set(Kind::job, "job", {{"name", "Mill House"}}),
            add(Kind::room, "r1", {{"name", "Hall"}}),
            add(Kind::amplifier, "a1", {{"name", "Amplifier 1"}, {"rated_w", 180.0}}),
            add(Kind::channel, "c1", {{"name", "Output 1"}, {"amplifier", "a1"}, {"rated_w", 180.0}}),
            add(Kind::zone, "z1", {{"name", "Zone 1"}, {"channel", "c1"}, {"limit_w", 100.0}}),
            add(Kind::speaker_type, "t1", {{"name", "Ceiling 165 mm"}, {"taps_w", List{2.5, 5.0, 10.0}}}),
            add(Kind::point, "p1",
                {{"kind", "speaker"},
                 {"label", "C-1"},
                 {"room", "r1"},
                 {"fed_from", "z1"},
                 {"type", "t1"},
                 {"tap_w", 5.0},
                 {"state", "fitted"},
                 {"length_m", 12.0}}),
            add(Kind::point, "p2",
                {{"kind", "speaker"},
                 {"label", "C-2"},
                 {"room", "r1"},
                 {"fed_from", "p1"},
                 {"type", "t1"},
                 {"tap_w", 5.0},
                 {"state", "fitted"},
                 {"length_m", 6.0}})};
}

}  // namespace tapwright::test
