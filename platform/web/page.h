// The page that the program runs for, as the worker's script (page/worker.js) stands between them.
//
// What it is told needs no answer. What it is asked it answers between two frames, by a number.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "core/job/value.h"
#include "platform/web/store/handles.h"

namespace tapwright::web {

// What came of asking: what was asked for, or the browser's own name for what went wrong ("QuotaExceededError").
struct Answer {
    std::string trouble;  // "" where there was none
    Value value;
    std::string bytes;
};

void tell_page(const char* kind, const Value& value = {});
void ask_page(const char* kind, const Value& value, std::function<void(Answer)> done);
// Bytes that the page shall keep for a later tell or ask, by a number.
int lend_bytes(std::string_view bytes);

// Called by the worker's script: see exports.cpp.
void page_answers(int number, Answer answer);
// Asked and not answered yet.
std::size_t questions_open();

// A file that the worker's script has opened, by the number it gave.
std::unique_ptr<Handle> page_handle(int number);

// Seconds by the worker's steady clock.
double steady_seconds();

}  // namespace tapwright::web
