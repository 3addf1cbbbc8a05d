// Runs a command of the program within this process and catches what it prints, so that hundreds of runs take seconds.
#pragma once

#include <string>
#include <vector>

namespace tapwright::test {

struct Captured {
    int status = -1;
    std::string out;
    std::string err;
};

// `folder` holds the person's settings and what is caught.
Captured captured(const std::string& folder, const std::vector<std::string>& arguments);

}  // namespace tapwright::test
