// Runs the real program and catches what it says.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/job/value.h"

namespace tapwright::test {

struct Ran {
    int status = -1;  // exit status; 128 + signal when it was killed
    std::string out;
    std::string err;
};

// Runs `tapwright` with these arguments, its settings in `folder`, in this language.
Ran tapwright(const std::string& folder, const std::vector<std::string>& arguments, const char* language = "en");

// The same with this file as its standard input, and with standard output into this one, which may be a device;
// Ran::out then stays empty. "": as above.
Ran tapwright_piped(const std::string& folder, const std::vector<std::string>& arguments, const std::string& in,
                    const std::string& out = "");

// The same with no more than so many bytes of memory to be had, the program itself and its libraries included.
Ran tapwright_within(const std::string& folder, const std::vector<std::string>& arguments, std::size_t bytes);

// Standard output as JSON; a failed check when it is none.
Value json_of(const Ran& ran);

std::vector<std::string> keys(const Value& record);
// A failed check where there is none.
double number(const Value& record, std::string_view key);

inline bool has(std::string_view text, std::string_view part) {
    return text.find(part) != std::string_view::npos;
}

void write_bytes(const std::string& path, const std::string& bytes);
std::string read_bytes(const std::string& path);

}  // namespace tapwright::test
