#include "core/words/isolate.h"

#include <algorithm>

#include "core/base/direction.h"

namespace tapwright {
namespace {

bool turns(const Message& message);

bool turns(const Argument& argument) {
    if (const auto* typed = std::get_if<Entered>(&argument.value())) return turns_direction(typed->text);
    if (const auto* inner = std::get_if<Message>(&argument.value())) return turns(*inner);
    if (const auto* several = std::get_if<Series>(&argument.value()))
        return std::any_of(several->items.begin(), several->items.end(),
                           [](const Argument& item) { return turns(item); });
    return false;
}

bool turns(const Message& message) {
    return std::any_of(message.named().begin(), message.named().end(),
                       [](const Named& named) { return turns(named.value); }) ||
           std::any_of(message.sentences().begin(), message.sentences().end(),
                       [](const Message& sentence) { return turns(sentence); });
}

Message isolated_message(const Message& message);

Argument isolated_argument(const Argument& argument) {
    if (const auto* typed = std::get_if<Entered>(&argument.value())) return entered(contained(typed->text));
    if (const auto* inner = std::get_if<Message>(&argument.value())) return isolated_message(*inner);
    if (const auto* several = std::get_if<Series>(&argument.value())) {
        Series made{{}, several->last};
        for (const Argument& item : several->items) made.items.push_back(isolated_argument(item));
        return made;
    }
    return argument;
}

Message isolated_message(const Message& message) {
    if (!message.sentences().empty()) {
        std::vector<Message> made;
        for (const Message& sentence : message.sentences()) made.push_back(isolated_message(sentence));
        return sentences(std::move(made));
    }
    std::vector<Named> named;
    for (const Named& one : message.named()) named.push_back({one.place, isolated_argument(one.value)});
    return message.pattern().many ? Message(message.pattern(), message.count(), named.data(), named.size())
                                  : Message(message.pattern(), std::move(named));
}

}  // namespace

std::string text_with_isolates(const Words& words, const Message& message) {
    return turns(message) ? words.text(isolated_message(message)) : words.text(message);
}

}  // namespace tapwright
