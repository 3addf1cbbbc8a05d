// What the sentences of many readings cost: the job is wired once for all of them. Counted in bytes asked for, which
// are the same on every machine.
#include <doctest/doctest.h>

#include <cstdlib>
#include <new>

#include "tests/readings/reading_jobs.h"

namespace {
std::size_t bytes_asked_for = 0;
}  // namespace

void* operator new(std::size_t size) {
    bytes_asked_for += size;
    if (void* memory = std::malloc(size > 0 ? size : 1)) return memory;
    std::abort();
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
    bytes_asked_for += size;
    return std::malloc(size > 0 ? size : 1);
}
void operator delete(void* memory) noexcept {
    std::free(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    std::free(memory);
}

using namespace tapwright;

namespace {

// `points` loudspeakers in a row, and `readings` of their zone that all ask where to measure next.
JobBuilder long_line(int points, int readings) {
    JobBuilder job = one_zone(100, 1e6, 1e6).chain("p", points, "z", 5);
    for (int i = 0; i < readings; ++i) job.read("r" + std::to_string(i), "z", 1e4 / (5.0 * points) * 0.7);
    return job;
}

std::size_t bytes_to_say_all(int points, int readings) {
    const JobBuilder job = long_line(points, readings);
    const Derived derived = derive(job);
    const std::size_t before = bytes_asked_for;
    const ReadingWords words(job, derived);
    for (std::size_t i = 0; i < derived.readings.size(); ++i) words.statement_of(i);
    return bytes_asked_for - before;
}

}  // namespace

TEST_CASE("a reading more costs the same whatever the size of the job") {
    const std::size_t in_small = bytes_to_say_all(100, 80) - bytes_to_say_all(100, 40);
    const std::size_t in_large = bytes_to_say_all(2000, 80) - bytes_to_say_all(2000, 40);
    CHECK(in_small > 0);
    CHECK(in_large * 10 < in_small * 12);
}

TEST_CASE("many readings are said as each by itself") {
    JobBuilder job = twelve();
    job.read("r", "z", 69.0, {{"baseline", true}}).read("r2", "z", 75.27).read("r3", "p7", 300).read("r4", "out", 40);
    job.add("reading", "stray", {{"at", "z"}, {"quantity", "stray_v"}, {"value", 12.0}});
    const Derived derived = derive(job);
    const ReadingWords words(job, derived);
    for (std::size_t i = 0; i < derived.readings.size(); ++i) {
        CHECK(in_english(words.statement_of(i).text) == in_english(statement_of(job, derived, i).text));
        CHECK(in_english(words.statement_of(i).why) == in_english(statement_of(job, derived, i).why));
    }
}
