#include "core/journal/names.h"

namespace tapwright {

NameTable::NameTable(const NameTable& other) {
    for (const std::string& text : other.texts_) intern(text);
}

NameTable& NameTable::operator=(const NameTable& other) {
    NameTable copy(other);
    texts_.swap(copy.texts_);  // a swap keeps the strings, and so the keys, where they are
    numbers_.swap(copy.numbers_);
    return *this;
}

Name NameTable::intern(std::string_view text) {
    const auto found = numbers_.find(text);
    if (found != numbers_.end()) return found->second;
    const Name name = static_cast<Name>(texts_.size());
    numbers_.emplace(texts_.emplace_back(text), name);
    return name;
}

Name NameTable::find(std::string_view text) const {
    const auto found = numbers_.find(text);
    return found == numbers_.end() ? unknown : found->second;
}

}  // namespace tapwright
