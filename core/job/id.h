// The name a record keeps for life: [A-Za-z0-9_-]{1,40}, unique over all kinds of a job.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "core/base/ensure.h"

namespace tapwright {

class Id {
public:
    // An Id that names nothing. Only for containers; no record has it.
    Id() = default;

    // Requires: is_valid(text).
    explicit Id(std::string_view text) : text_(text), hash_(hash_of(text)) { TAPWRIGHT_ENSURE(is_valid(text)); }

    static bool is_valid(std::string_view text) {
        if (text.empty() || text.size() > 40) return false;
        for (const char c : text) {
            const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
            if (!plain && c != '_' && c != '-') return false;
        }
        return true;
    }

    const std::string& text() const { return text_; }
    std::uint64_t hash() const { return hash_; }

    friend bool operator==(const Id& a, const Id& b) { return a.hash_ == b.hash_ && a.text_ == b.text_; }
    friend bool operator<(const Id& a, const Id& b) { return a.text_ < b.text_; }

private:
    // FNV-1a, 64 bit (Fowler, Noll, Vo; draft-eastlake-fnv), with a last mixing step.
    static std::uint64_t hash_of(std::string_view text) {
        std::uint64_t hash = 0xcbf29ce484222325u;
        for (const char c : text) hash = (hash ^ static_cast<std::uint8_t>(c)) * 0x100000001b3u;
        return hash ^ (hash >> 29);
    }

    std::string text_;
    std::uint64_t hash_ = 0;
};

struct IdHash {
    std::size_t operator()(const Id& id) const { return static_cast<std::size_t>(id.hash()); }
};

}  // namespace tapwright
