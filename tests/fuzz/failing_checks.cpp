// The checks of doctest in code that a fuzz target shares with the tests: one that fails ends the process.
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdlib>

namespace {

const bool is_ready = [] {
    static doctest::Context context;
    context.setAssertHandler([](const doctest::AssertData& check) {
        if (check.m_failed) std::abort();
    });
    context.setAsDefaultForAssertsOutOfTestCases();
    return true;
}();

}  // namespace
