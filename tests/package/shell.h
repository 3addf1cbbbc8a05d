// Runs command lines, and reads what the build made for the package.
#pragma once

#include <string>
#include <string_view>

namespace tapwright::test {

struct Said {
    int status = -1;   // exit status of the command line
    std::string text;  // what it wrote, errors included
};

// Runs `line` with bash, in UTF-8 and in English.
Said run_line(const std::string& line);

// `text` as one word of a command line, whatever it holds.
std::string as_word(std::string_view text);

// The path of a file the build made for the package, and what it holds; a failed check when it is not there.
std::string made(const std::string& name);
std::string text_of(const std::string& path);

}  // namespace tapwright::test
