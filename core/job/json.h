// JSON text (RFC 8259) to Value and back, for every file and every stored value.
//
// Reading is for hostile input: UTF-8 is checked, a key that stands twice is refused, numbers must be finite, and
// depth and size are bounded. Every refusal names the place by JSON pointer (RFC 6901) or by line.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/job/value.h"

namespace tapwright {

struct JsonLimits {
    std::size_t bytes = std::size_t{256} << 20;
    int depth = 12;                      // levels of nesting; a job needs 8 (a trial's strokes)
    std::size_t values = 20'000'000;     // numbers, texts, lists and maps together
    std::size_t text_bytes = 1'000'000;  // one text or key
};

// "house.json, at /points/3/tap_w": a place in a file for sentences. Either may be empty.
Message place_in(std::string_view file, std::string_view pointer);

// `what` names the input in sentences, for example "house.json"; empty where there is none to name.
Result<Value> parse_json(std::string_view text, std::string_view what, const JsonLimits& limits = {});

// One line without spaces. Numbers as short as they read back, whole ones without ".0".
std::string compact_json(const Value& value);

// The same for a reader outside: what does something on a terminal or a page (core/base/harmless.h) is written as
// \uXXXX, which reads back as the same text.
std::string answer_json(const Value& value);

// The canonical form of files: two spaces for each level, LF, one member or element a line, LF at the end; escapes as
// in answer_json().
std::string pretty_json(const Value& value);

}  // namespace tapwright
