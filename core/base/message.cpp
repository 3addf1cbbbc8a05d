#include "core/base/message.h"

namespace tapwright {

Message::Message() = default;

Message::Message(Pattern pattern) : pattern_(pattern) {}

Message::Message(Pattern pattern, std::vector<Named> named) : pattern_(pattern), named_(std::move(named)) {}

Message::Message(Pattern pattern, std::int64_t count, std::vector<Named> named)
    : pattern_(pattern), count_(count), named_(std::move(named)) {
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

Argument Message::bare_text(std::string_view text) {
    return entered(text);
}

bool Message::empty() const {
    return pattern_.empty() && sentences_.empty();
}

const Argument* Message::find(std::string_view place) const {
    for (const Named& named : named_)
        if (place == named.place) return &named.value;
    return nullptr;
}

Message sentences(std::vector<Message> several) {
    Message all;
    for (Message& one : several)
        if (!one.empty()) all.sentences_.push_back(std::move(one));
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

std::string bare_text_of(const Message& message) {
    std::string text;
    for (const Message& sentence : message.sentences()) text += (text.empty() ? "" : " ") + bare_text_of(sentence);
    if (message.pattern().empty()) return text;
    std::string_view pattern =
        message.pattern().many && message.count() != 1 ? message.pattern().many : message.pattern().text;
    while (!pattern.empty()) {
        const std::size_t open = pattern.find('{');
        text += pattern.substr(0, open);
        if (open == std::string_view::npos) break;
        const std::size_t close = pattern.find('}', open);
        if (const Argument* argument = message.find(pattern.substr(open + 1, close - open - 1))) {
            const Argument::Value& value = argument->value();
            if (const auto* entered = std::get_if<Entered>(&value)) text += entered->text;
            if (const auto* code = std::get_if<Code>(&value)) text += code->text;
            if (const auto* figure = std::get_if<Figure>(&value)) text += std::to_string(figure->value);
            if (const auto* count = std::get_if<Count>(&value)) text += std::to_string(count->value);
            if (const auto* inner = std::get_if<Message>(&value)) text += bare_text_of(*inner);
        }
        pattern.remove_prefix(close + 1);
    }
    return text;
}

}  // namespace tapwright
