// What a call reads and writes: standard input and output, and files that are not replaced unasked.
#include <cerrno>
#include <cstdio>
#include <cstring>

#include "platform/cli/command.h"
#include "platform/system/files.h"
#include "platform/system/parts.h"

namespace tapwright::cli {
namespace {

// Of the first write to standard output that failed; 0 while none did.
int print_error = 0;

void note_print_error() {
    if (print_error == 0) print_error = errno != 0 ? errno : EIO;
}

Result<std::string> read_standard_input(std::size_t most) {
    std::string bytes;
    char buffer[1 << 16];
    for (;;) {
        errno = 0;
        const std::size_t got = std::fread(buffer, 1, sizeof buffer, stdin);
        bytes.append(buffer, got);
        if (bytes.size() > most)
            return Refusal{Message("Standard input is too large. At most {most} bytes can be read.", {{"most", most}})};
        if (got == sizeof buffer) continue;
        if (std::ferror(stdin) == 0) return bytes;
        return Refusal{Message("Standard input cannot be read: {reason}. Name a file, or pipe one in.",
                               {{"reason", entered(std::strerror(errno))}})};
    }
}

}  // namespace

namespace {

void print_bytes(std::string_view bytes) {
    errno = 0;
    if (std::fwrite(bytes.data(), 1, bytes.size(), stdout) != bytes.size()) note_print_error();
}

}  // namespace

void print(std::string_view text) {
    print_bytes(harmless(text, Breaks::kept));
}

void print_line(const Words& words, const Message& line) {
    print(words.text(line) + "\n");
}

Result<void> print_rest() {
    errno = 0;
    if (std::fflush(stdout) != 0) note_print_error();
    if (print_error == 0) return done();
    return Refusal{
        Message("Standard output cannot be written: {reason}. Part of the answer is missing; what the command changed "
                "in the job is saved. Write to where there is room.",
                {{"reason", entered(std::strerror(print_error))}})};
}

void remark(const Words& words, const Message& line) {
    std::fprintf(stderr, "tapwright: %s\n", harmless(words.text(line), Breaks::shown).c_str());
}

bool is_standard(const std::string& name) {
    return name == "-";
}

Result<void> check_job_file(const std::string& name) {
    if (!is_standard(name)) return done();
    return Refusal{
        Message("A job file cannot be standard input or output. Name a file (.tapjob); JSON can be piped: "
                "{export}.",
                {{"export", code("`tapwright export FILE -`")}})};
}

Result<std::string> read_input(const std::string& name, std::size_t most) {
    return is_standard(name) ? read_standard_input(most) : read_file(name, most);
}

Result<void> check_output(const Call& call, const std::string& name) {
    if (is_standard(name)) {
        if (!call.json()) return done();
        return Refusal{
            Message("{json} and {standard} would both write to standard output. Name a file instead of "
                    "{standard}, or leave out {json}.",
                    {{"json", code("--json")}, {"standard", code("-")}})};
    }
    if (call.has("--replace") || !is_taken(name)) return done();
    return Refusal{Message("{file} exists already. Choose another name, or add {replace} to write over it.",
                           {{"file", code(name)}, {"replace", code("--replace")}})};
}

Result<void> write_output(const Call& call, const std::string& name, std::string_view bytes) {
    TAPWRIGHT_PASS(check_output(call, name));
    if (!is_standard(name)) return write_file(name, bytes);
    print_bytes(bytes);
    return print_rest();
}

}  // namespace tapwright::cli
