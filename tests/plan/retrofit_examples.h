// The worked examples of docs/calculations.md, section "Survey and retrofit", beside those of worked_examples_test.cpp.
#pragma once

#include <map>
#include <string>

#include "tests/line/worked_examples.h"

namespace tapwright {

std::map<std::string, WorkedExample> retrofit_examples();

}  // namespace tapwright
