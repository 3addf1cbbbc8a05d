#include "core/base/message.h"

#include <iterator>

namespace tapwright {

Message::Message() = default;

Message::Message(Pattern pattern) : pattern_(pattern) {}

Message::Message(Pattern pattern, std::int64_t count, Named* first, std::size_t several)
    : pattern_(pattern), count_(count) {
    take(first, several);
    if (!find("count")) named_.push_back({"count", Count{count}});
}

Message::Message(Argument alone) : pattern_("{}") {
    named_.push_back({"", std::move(alone)});
}

Message::Message(const Message&) = default;
Message::Message(Message&&) noexcept = default;
Message& Message::operator=(const Message&) = default;
Message& Message::operator=(Message&&) noexcept = default;
Message::~Message() = default;

Argument::Argument(Entered value) : value_(std::move(value)) {}
Argument::Argument(Code value) : value_(std::move(value)) {}
Argument::Argument(Figure value) : value_(value) {}
Argument::Argument(Count value) : value_(value) {}
Argument::Argument(Day value) : value_(std::move(value)) {}
Argument::Argument(Moment value) : value_(std::move(value)) {}
Argument::Argument(Choice value) : value_(value) {}
Argument::Argument(Series value) : value_(std::move(value)) {}
Argument::Argument(Message value) : value_(std::move(value)) {}
Argument::Argument(const Argument&) = default;
Argument::Argument(Argument&&) noexcept = default;
Argument& Argument::operator=(const Argument&) = default;
Argument& Argument::operator=(Argument&&) noexcept = default;
Argument::~Argument() = default;

void Message::take(Named* first, std::size_t several) {
    named_.assign(std::make_move_iterator(first), std::make_move_iterator(first + several));
}

bool Message::empty() const {
    return pattern_.empty() && sentences_.empty();
}

const Argument* Message::find(std::string_view place) const {
    for (const Named& named : named_)
        if (place == named.place) return &named.value;
    return nullptr;
}

Message sentences(Message* first, std::size_t several) {
    Message all;
    for (Message* one = first; one != first + several; ++one)
        if (!one->empty()) all.sentences_.push_back(std::move(*one));
    if (all.sentences_.size() == 1) {
        Message alone = std::move(all.sentences_.front());
        return alone;
    }
    return all;
}

Message placed(Message place, Message problem) {
    if (place.empty()) return problem;
    return Message("{place}: {problem}", {{"place", std::move(place)}, {"problem", std::move(problem)}});
}

}  // namespace tapwright
