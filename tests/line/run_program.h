// Starting another program and reading what it prints. Host only.
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <string>

namespace tapwright {

struct ProgramRun {
    bool started = false;
    int status = -1;  // as the shell says; 127 where there is no such program
    std::string output;
};

// Requires: `command` is ours, not made of foreign text: a shell reads it.
inline ProgramRun run_program(const std::string& command) {
    ProgramRun run;
    std::FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) return run;
    run.started = true;
    std::array<char, 4096> block{};
    for (std::size_t got = 0; (got = std::fread(block.data(), 1, block.size(), pipe)) > 0;) {
        run.output.append(block.data(), got);
    }
    const int status = pclose(pipe);
    run.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return run;
}

}  // namespace tapwright
