// Every page and sheet of the program, to be held against what holds for all of them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "tests/ui/screens/desk.h"

namespace tapwright::tests {

struct PageCase {
    const char* name;
    ui::PlaceId place;
    std::function<void(Desk&)> go;  // from the place's first page
};
const std::vector<PageCase>& pages();

struct WindowSize {
    float width, height;
};

// The faults one on each line, for the message of a check.
std::string in_lines(const std::vector<std::string>& faults);

}  // namespace tapwright::tests
