// A job file as somebody makes it who knows the format: records and changes out of a fuzz target's bytes, every hash
// right, unless a row, a byte of a page, or what lies beside the file is spoilt afterwards.
#pragma once

#include <string>

#include "tests/fuzz/draws.h"

namespace tapwright::fuzz {

// What was spoilt once the file was made: then a refusal of any kind is right.
struct Forged {
    bool is_beside = false;  // a -journal lies there, which opening may play back
};

// Requires: there is such a file.
std::string bytes_of(const std::string& path);

// Requires: nothing is at `path` or beside it. `victim` is a file that none of it may touch.
Forged forge(const std::string& path, const std::string& victim, Draws& draws);

}  // namespace tapwright::fuzz
