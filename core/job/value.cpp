#include "core/job/value.h"

namespace tapwright {

const Value& Value::find(std::string_view key) const {
    static const Value none;
    if (const Map* members = map())
        for (const auto& [name, value] : *members)
            if (name == key) return value;
    return none;
}

std::string_view Value::what() const {
    static constexpr std::string_view words[] = {"null", "true or false", "a number", "a text", "a list", "a map"};
    return words[held_.index()];
}

}  // namespace tapwright
