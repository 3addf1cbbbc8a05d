// Small jobs for tests.
#pragma once

#include <doctest/doctest.h>

#include <initializer_list>
#include <string>
#include <utility>

#include "core/job/job.h"
#include "core/words/words.h"

namespace tapwright::made {

// Adds a record with these fields to the job; ranks follow the order of the calls.
inline void add(Job& job, Kind kind, const char* id, std::initializer_list<std::pair<const char*, Value>> values) {
    std::int64_t made = 0;
    for (std::size_t i = 0; i < kind_count; ++i) made += static_cast<std::int64_t>(job.count(kind_at(i)));
    job.make(kind, Id(id), MadeRank{.clock = made});
    for (const std::pair<const char*, Value>& given : values) {
        const FieldInfo* field = find_field(kind, given.first);
        REQUIRE_MESSAGE(field, given.first);
        const Result<void> set = job.set(kind, Id(id), *field, given.second);
        REQUIRE_MESSAGE(set.ok(), given.first << " " << (set.ok() ? "" : in_english(set.refusal())));
    }
}

inline void set(Job& job, Kind kind, const char* id, const char* name, const Value& value) {
    REQUIRE(job.set(kind, Id(id), *find_field(kind, name), value).ok());
}

}  // namespace tapwright::made
