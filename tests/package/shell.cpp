#include "tests/package/shell.h"

#include <doctest/doctest.h>
#include <sys/wait.h>

#include <cstdio>
#include <fstream>
#include <iterator>

namespace tapwright::test {

Said run_line(const std::string& line) {
    const std::string whole = "LC_ALL=C.UTF-8 LANGUAGE= bash --norc -c " + as_word(line) + " 2>&1";
    std::FILE* pipe = ::popen(whole.c_str(), "r");
    REQUIRE(pipe != nullptr);
    Said said;
    char part[4096];
    while (const std::size_t read = std::fread(part, 1, sizeof part, pipe)) said.text.append(part, read);
    const int status = ::pclose(pipe);
    said.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return said;
}

std::string as_word(std::string_view text) {
    std::string word = "'";
    for (const char c : text) word += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return word + "'";
}

std::string made(const std::string& name) {
    return std::string(TAPWRIGHT_MADE) + "/" + name;
}

std::string text_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    REQUIRE_MESSAGE(file.good(), path);
    return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace tapwright::test
