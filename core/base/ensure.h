// ensure(): an assertion that stays on in every build. It is for our own mistakes only: a wrong file, a wrong call or
// a wrong value from outside is a Refusal (core/base/result.h), never an ensure.
#pragma once

namespace tapwright {

// Writes the broken expectation to standard error and aborts. Never returns.
[[noreturn]] void broken_expectation(const char* expectation, const char* file, int line);

}  // namespace tapwright

#define TAPWRIGHT_ENSURE(expectation) \
    (static_cast<bool>(expectation) ? void(0) : ::tapwright::broken_expectation(#expectation, __FILE__, __LINE__))
