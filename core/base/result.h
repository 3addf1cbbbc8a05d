// Result<T>: either a value, or a message that says what is wrong, where, and what would be right.
//
// It is for what comes from outside: refused commands and damaged or foreign files. Our own mistakes are
// TAPWRIGHT_ENSURE (core/base/ensure.h).
#pragma once

#include <optional>
#include <utility>
#include <variant>

#include "core/base/ensure.h"
#include "core/base/message.h"

namespace tapwright {

// Why something was not done, in one or two whole sentences for a person: what, where, and what would be right.
struct Refusal {
    Message message;
};

inline Refusal placed(Message place, const Refusal& refusal) {
    return {placed(std::move(place), refusal.message)};
}

template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
    Result(Refusal refusal) : state_(std::in_place_index<1>, std::move(refusal)) {}

    bool ok() const { return state_.index() == 0; }
    explicit operator bool() const { return ok(); }

    // Requires: ok().
    T& value() & {
        TAPWRIGHT_ENSURE(ok());
        return *std::get_if<0>(&state_);
    }
    const T& value() const& {
        TAPWRIGHT_ENSURE(ok());
        return *std::get_if<0>(&state_);
    }
    T&& value() && {
        TAPWRIGHT_ENSURE(ok());
        return std::move(*std::get_if<0>(&state_));
    }
    T& operator*() & { return value(); }
    const T& operator*() const& { return value(); }
    T* operator->() { return &value(); }
    const T* operator->() const { return &value(); }

    // Requires: !ok().
    const Refusal& refusal() const {
        TAPWRIGHT_ENSURE(!ok());
        return *std::get_if<1>(&state_);
    }

private:
    std::variant<T, Refusal> state_;
};

// Result<void>: done, or the message why not.
template <>
class [[nodiscard]] Result<void> {
public:
    Result() = default;
    Result(Refusal refusal) : refusal_(std::move(refusal)) {}

    bool ok() const { return !refusal_; }
    explicit operator bool() const { return ok(); }
    const Refusal& refusal() const {
        TAPWRIGHT_ENSURE(!ok());
        return *refusal_;
    }

private:
    std::optional<Refusal> refusal_;  // one that is not there costs nothing to make and to drop
};

inline Result<void> done() {
    return {};
}

}  // namespace tapwright

// Passing a refusal on, in a function that returns a Result itself:
//
//     TAPWRIGHT_PASS(journal.append(batch));           returns its refusal if there is one; the value is not asked for
//     TAPWRIGHT_TAKE(stored, journal.read(id));        const auto& stored = the value, or returns the refusal
//
// Both are plain statements, each expression is evaluated once, and a taken value lives to the end of its block. TAKE
// declares a name, so it stands in a block of its own right, never alone behind an `if`.
#define TAPWRIGHT_PASS(expression)                                                                             \
    do {                                                                                                       \
        if (const auto& tapwright_passed = (expression); !tapwright_passed) return tapwright_passed.refusal(); \
    } while (false)

#define TAPWRIGHT_TAKE(name, expression)                                  \
    const auto& tapwright_taken_##name = (expression);                    \
    if (!tapwright_taken_##name) return tapwright_taken_##name.refusal(); \
    const auto& name = tapwright_taken_##name.value()
