// Interned texts: kinds, fields and people, which repeat in every op and every batch.
#pragma once

#include <cstdint>
#include <deque>
#include <string>
#include <string_view>
#include <unordered_map>

namespace tapwright {

using Name = std::uint32_t;

class NameTable {
public:
    NameTable() = default;
    NameTable(const NameTable& other);
    NameTable& operator=(const NameTable& other);
    NameTable(NameTable&&) = default;
    NameTable& operator=(NameTable&&) = default;
    ~NameTable() = default;

    // The number of `text`; a new one when it was not known.
    Name intern(std::string_view text);
    // The number of `text`, or unknown.
    Name find(std::string_view text) const;
    std::string_view text(Name name) const { return texts_[name]; }

    static constexpr Name unknown = ~Name{0};

private:
    std::deque<std::string> texts_;  // a deque, so that the keys below stay where they are
    std::unordered_map<std::string_view, Name> numbers_;
};

}  // namespace tapwright
