#include "platform/web/store/handles.h"

#include <algorithm>
#include <cstring>

namespace tapwright {

int MemoryHandle::read(void* to, int bytes, std::int64_t at) {
    if (at < 0 || at >= size() || bytes <= 0) return 0;
    const auto count = static_cast<std::size_t>(std::min<std::int64_t>(bytes, size() - at));
    std::memcpy(to, bytes_.data() + at, count);
    return static_cast<int>(count);
}

bool MemoryHandle::write(const void* from, int bytes, std::int64_t at) {
    if (at < 0 || bytes < 0) return false;
    const auto end = static_cast<std::size_t>(at + bytes);
    if (end > bytes_.size()) bytes_.resize(end);
    std::memcpy(bytes_.data() + at, from, static_cast<std::size_t>(bytes));
    return true;
}

bool MemoryHandle::truncate(std::int64_t size) {
    if (size < 0) return false;
    bytes_.resize(static_cast<std::size_t>(size));
    return true;
}

Handle* OpenFiles::find(std::string_view name) const {
    const auto found = files_.find(name);
    return found == files_.end() ? nullptr : found->second.get();
}

bool OpenFiles::exists(std::string_view name) const {
    Handle* const file = find(name);
    return file != nullptr && file->size() > 0;
}

void OpenFiles::rename(const std::string& from, const std::string& to) {
    const auto found = files_.find(from);
    if (found == files_.end() || from == to) return;
    files_[to] = std::move(found->second);
    files_.erase(found);
}

bool read_whole(Handle& file, std::string& bytes) {
    const std::int64_t size = file.size();
    if (size < 0) return false;
    bytes.resize(static_cast<std::size_t>(size));
    return file.read(bytes.data(), static_cast<int>(size), 0) == size;
}

bool write_whole(Handle& file, std::string_view bytes) {
    const auto size = static_cast<int>(bytes.size());
    return file.truncate(0) && file.write(bytes.data(), size, 0) && file.flush();
}

}  // namespace tapwright
