// Value: what a field holds while it is between a record and a file. It is the JSON value (RFC 8259) as a plain tree.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/result.h"

namespace tapwright {

class Value;
using List = std::vector<Value>;  // a list of one list is List{Value(list)}; compilers differ on List{list}
using Map = std::vector<std::pair<std::string, Value>>;  // in the order written; no key twice

class Value {
public:
    Value() = default;  // null: unknown, absent, cleared
    Value(bool flag) : held_(flag) {}
    Value(double number) : held_(number) {}
    Value(std::string text) : held_(std::move(text)) {}
    Value(const char* text) : held_(std::string(text)) {}
    Value(List list) : held_(std::move(list)) {}
    Value(Map map) : held_(std::move(map)) {}
    // Copied part by part and moved in: the copy of a variant that holds itself, as libstdc++ 12 has it, ends in a
    // crash where memory runs out in its midst.
    Value(const Value& other);
    Value(Value&& other) noexcept = default;
    Value& operator=(const Value& other) { return *this = Value(other); }
    Value& operator=(Value&& other) noexcept = default;
    ~Value() = default;

    bool is_null() const { return held_.index() == 0; }
    const bool* flag() const { return std::get_if<bool>(&held_); }
    const double* number() const { return std::get_if<double>(&held_); }
    const std::string* text() const { return std::get_if<std::string>(&held_); }
    const List* list() const { return std::get_if<List>(&held_); }
    const Map* map() const { return std::get_if<Map>(&held_); }
    Map* map() { return std::get_if<Map>(&held_); }
    List* list() { return std::get_if<List>(&held_); }

    // The member of a map, or null when there is none or this is no map.
    const Value& find(std::string_view key) const;

    // "a text", "a number", "null" ...: for sentences.
    std::string_view what() const;

    friend bool operator==(const Value&, const Value&) = default;

private:
    std::variant<std::monostate, bool, double, std::string, List, Map> held_;
};

inline Value::Value(const Value& other) {
    if (const bool* held = other.flag()) held_ = *held;
    if (const double* held = other.number()) held_ = *held;
    if (const std::string* held = other.text()) held_ = std::string(*held);
    if (const List* held = other.list()) held_ = List(held->begin(), held->end());
    if (const Map* held = other.map()) held_ = Map(held->begin(), held->end());
}

}  // namespace tapwright
