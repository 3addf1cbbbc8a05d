#include "tests/cli/program.h"

#include <doctest/doctest.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

#include "core/job/json.h"
#include "core/words/words.h"

namespace tapwright::test {

namespace {

struct Streams {
    std::string in;
    std::string out;
    std::size_t most_memory = 0;  // 0: as much as there is
};

Ran run(const std::string& folder, const std::vector<std::string>& arguments, const char* language,
        const Streams& streams) {
    const std::string out = streams.out.empty() ? folder + "/.stdout" : streams.out;
    const std::string err = folder + "/.stderr";
    std::fflush(nullptr);  // or the child would print what is still in our buffers
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        ::setenv("XDG_CONFIG_HOME", folder.c_str(), 1);
        ::setenv("TAPWRIGHT_LANGUAGE", language, 1);
        ::setenv("SOURCE_DATE_EPOCH", "1772438400", 1);
        if (!std::freopen(streams.in.empty() ? "/dev/null" : streams.in.c_str(), "r", stdin)) ::_exit(126);
        if (!std::freopen(out.c_str(), "w", stdout) || !std::freopen(err.c_str(), "w", stderr)) ::_exit(126);
        const rlimit limit{streams.most_memory, streams.most_memory};
        if (streams.most_memory != 0 && ::setrlimit(RLIMIT_AS, &limit) != 0) ::_exit(126);
        std::vector<char*> words{const_cast<char*>(TAPWRIGHT_PROGRAM)};
        for (const std::string& argument : arguments) words.push_back(const_cast<char*>(argument.c_str()));
        words.push_back(nullptr);
        ::execv(TAPWRIGHT_PROGRAM, words.data());
        ::_exit(127);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    Ran ran;
    ran.status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    if (streams.out.empty()) ran.out = read_bytes(out);
    ran.err = read_bytes(err);
    return ran;
}

}  // namespace

Ran tapwright(const std::string& folder, const std::vector<std::string>& arguments, const char* language) {
    return run(folder, arguments, language, {});
}

Ran tapwright_piped(const std::string& folder, const std::vector<std::string>& arguments, const std::string& in,
                    const std::string& out) {
    return run(folder, arguments, "en", {in, out, 0});
}

Ran tapwright_within(const std::string& folder, const std::vector<std::string>& arguments, std::size_t bytes) {
    return run(folder, arguments, "en", {"", "", bytes});
}

Value json_of(const Ran& ran) {
    const Result<Value> value = parse_json(ran.out, "standard output");
    REQUIRE_MESSAGE(value.ok(), (value.ok() ? std::string() : in_english(value.refusal())) << ran.err);
    return *value;
}

std::vector<std::string> keys(const Value& record) {
    std::vector<std::string> list;
    for (const auto& [key, value] : *record.map()) list.push_back(key);
    return list;
}

double number(const Value& record, std::string_view key) {
    REQUIRE(record.find(key).number());
    return *record.find(key).number();
}

void write_bytes(const std::string& path, const std::string& bytes) {
    std::ofstream file(path, std::ios::binary);
    file << bytes;
    REQUIRE(file.good());
}

std::string read_bytes(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace tapwright::test
