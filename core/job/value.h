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

}  // namespace tapwright
