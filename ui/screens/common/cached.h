// What a screen has worked out from the job, until the job or what it was worked out for changes.
//
//     if (seen_.still(*context.session, zone_)) return;      a look() that fills several members
//     counts_.of(session, [&] { return count(session); })    one value
#pragma once

#include <cstdint>
#include <optional>
#include <tuple>
#include <utility>

#include "core/session/session.h"

namespace tapwright::ui {

// The job's state and the inputs seen last.
template <class... Inputs>
class Seen {
public:
    // Returns: whether all of it is as in the call before; if not, it is what is compared with from now on.
    bool still(const Session& session, const Inputs&... inputs) {
        const auto is_same = [&](const auto&... before) { return ((before == inputs) && ...); };
        if (inputs_ && revision_ == session.revision() && std::apply(is_same, *inputs_)) return true;
        inputs_.emplace(inputs...);
        revision_ = session.revision();
        return false;
    }
    // The next look works it out anew.
    void forget() { inputs_.reset(); }

private:
    std::optional<std::tuple<Inputs...>> inputs_;
    std::uint64_t revision_ = 0;
};

// One value with what it was made of.
template <class T, class... Inputs>
class Cached {
public:
    template <class Make>
    const T& of(const Session& session, const Inputs&... inputs, const Make& make) {
        if (!seen_.still(session, inputs...) || !value_) value_.emplace(make());
        return *value_;
    }

    void forget() { seen_.forget(); }

private:
    Seen<Inputs...> seen_;
    std::optional<T> value_;
};

}  // namespace tapwright::ui
