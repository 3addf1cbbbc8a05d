#include "tests/web/disk.h"

#include <algorithm>
#include <cstring>
#include <utility>

#include "platform/web/store/vfs.h"

namespace tapwright::test {
namespace {

class DiskHandle : public Handle {
public:
    DiskHandle(Disk& disk, std::string name) : disk_(disk), name_(std::move(name)) {}

    int read(void* to, int bytes, std::int64_t at) override {
        const std::string& held = disk_.bytes[name_];
        if (at >= size()) return 0;
        const std::string part = held.substr(static_cast<std::size_t>(at), static_cast<std::size_t>(bytes));
        std::memcpy(to, part.data(), part.size());
        return static_cast<int>(part.size());
    }
    bool write(const void* from, int bytes, std::int64_t at) override {
        if (disk_.writes_left == 0) return false;
        if (disk_.writes_left > 0) --disk_.writes_left;
        std::string& held = disk_.bytes[name_];
        const auto begin = static_cast<std::size_t>(at);
        const auto count = static_cast<std::size_t>(bytes);
        if (held.size() < begin + count) held.resize(begin + count);
        held.replace(begin, count, static_cast<const char*>(from), count);
        disk_.note({DiskEvent::What::write, name_, {}, begin, {static_cast<const char*>(from), count}});
        return true;
    }
    bool truncate(std::int64_t size) override {
        disk_.bytes[name_].resize(static_cast<std::size_t>(size));
        disk_.note({DiskEvent::What::resize, name_, {}, static_cast<std::uint64_t>(size), {}});
        return true;
    }
    bool flush() override {
        disk_.note({DiskEvent::What::sync, name_, {}, 0, {}});
        return true;
    }
    std::int64_t size() override { return static_cast<std::int64_t>(disk_.bytes[name_].size()); }

private:
    Disk& disk_;
    std::string name_;
};

}  // namespace

void Disk::list(Done<std::vector<FolderEntry>> done) {
    std::vector<FolderEntry> entries;
    for (const auto& [name, held] : bytes) entries.push_back({name, static_cast<std::int64_t>(held.size()), 0});
    done(std::move(entries));
}

void Disk::open(const std::vector<std::string>& names, Done<void> done) {
    const auto is_taken = [this](const std::string& name) { return is_held || open_names.contains(name); };
    if (std::any_of(names.begin(), names.end(), is_taken)) return done(Refusal{Message("It is open in another tab.")});
    for (const std::string& name : names) {
        if (bytes.try_emplace(name).second && events) events->push_back({DiskEvent::What::create, name, {}, 0, {}});
        open_names.insert(name);
        files_.add(name, std::make_unique<DiskHandle>(*this, name));
    }
    done({});
}

void Disk::close(const std::vector<std::string>& names) {
    for (const std::string& name : names) {
        files_.close(name);
        open_names.erase(name);
        if (bytes[name].empty()) bytes.erase(name);
    }
}

void Disk::remove(const std::vector<std::string>& names, Done<void> done) {
    for (const std::string& name : names) bytes.erase(name);
    done({});
}

void Disk::copy(const std::string& from, const std::string& to, Done<void> done) {
    bytes[to] = bytes[from];
    done({});
}

void Disk::read(const std::string& name, std::size_t most_bytes, Done<std::string> done) {
    if (bytes[name].size() > most_bytes) return done(Refusal{Message("It is too large.")});
    done(bytes[name]);
}

OpenFiles& fresh_files() {
    static OpenFiles files;
    static const bool once = [] {
        register_vfs(files, false);
        return true;
    }();
    static_cast<void>(once);
    files = OpenFiles();
    return files;
}

}  // namespace tapwright::test
