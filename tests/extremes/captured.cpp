#include "tests/extremes/captured.h"

#include <fcntl.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>

#include "platform/cli/command.h"

namespace tapwright::test {
namespace {

// While it lives, a stream goes into a file.
class Redirected {
public:
    Redirected(std::FILE* stream, const std::string& file) : stream_(stream), number_(::fileno(stream)) {
        std::fflush(stream_);
        kept_ = ::dup(number_);
        const int into = ::open(file.c_str(), O_CREAT | O_TRUNC | O_WRONLY, 0600);
        ::dup2(into, number_);
        ::close(into);
    }
    ~Redirected() {
        std::fflush(stream_);
        ::dup2(kept_, number_);
        ::close(kept_);
    }
    Redirected(const Redirected&) = delete;
    Redirected& operator=(const Redirected&) = delete;

private:
    std::FILE* stream_;
    int number_;
    int kept_ = -1;
};

std::string bytes_of(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

Captured captured(const std::string& folder, const std::vector<std::string>& arguments) {
    ::setenv("XDG_CONFIG_HOME", folder.c_str(), 1);
    ::setenv("TAPWRIGHT_LANGUAGE", "en", 1);
    ::setenv("SOURCE_DATE_EPOCH", "1772438400", 1);
    Captured made;
    {
        const Redirected out(stdout, folder + "/.stdout");
        const Redirected err(stderr, folder + "/.stderr");
        made.status = cli::run(arguments);
    }
    made.out = bytes_of(folder + "/.stdout");
    made.err = bytes_of(folder + "/.stderr");
    return made;
}

}  // namespace tapwright::test
