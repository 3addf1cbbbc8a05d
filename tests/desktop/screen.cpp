#include "tests/desktop/screen.h"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <thread>
#include <utility>

#include "core/job/json.h"

namespace tapwright::test {
namespace {

using namespace std::chrono_literals;

void rest(std::chrono::milliseconds time) {
    std::this_thread::sleep_for(time);
}

[[noreturn]] void become(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
    for (const std::string& each : environment)
        ::setenv(each.substr(0, each.find('=')).c_str(), each.substr(each.find('=') + 1).c_str(), 1);
    std::vector<char*> arguments;
    for (const std::string& word : words) arguments.push_back(const_cast<char*>(word.c_str()));
    arguments.push_back(nullptr);
    ::execvp(arguments.front(), arguments.data());
    ::_exit(127);
}

pid_t fork_quietly() {
    std::fflush(nullptr);  // or the child would print what is still in our buffers
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    return child;
}

double number_at(const Value& mark, std::size_t place) {
    return *(*mark.find("rect").list())[place].number();
}

}  // namespace

Child::Child(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
    id_ = fork_quietly();
    if (id_ == 0) become(words, environment);
}

Child::Child(Child&& other) noexcept : id_(std::exchange(other.id_, -1)) {}

Child& Child::operator=(Child&& other) noexcept {
    std::swap(id_, other.id_);
    return *this;
}

void Child::stop(int signal) {
    if (id_ <= 0) return;
    ::kill(id_, signal);
    int status = 0;
    ::waitpid(id_, &status, 0);
    id_ = -1;
}

std::string output_of(const std::vector<std::string>& words, const std::vector<std::string>& environment) {
    std::array<int, 2> ends{};
    REQUIRE(::pipe(ends.data()) == 0);
    const pid_t child = fork_quietly();
    if (child == 0) {
        ::dup2(ends[1], 1);
        ::close(ends[0]);
        become(words, environment);
    }
    ::close(ends[1]);
    std::string text;
    std::array<char, 4096> part{};
    for (ssize_t size = 0; (size = ::read(ends[0], part.data(), part.size())) > 0;)
        text.append(part.data(), static_cast<std::size_t>(size));
    ::close(ends[0]);
    ::waitpid(child, nullptr, 0);
    return text;
}

Screen::Screen(std::string folder, int width, int height)
    : folder_(std::move(folder)), marks_(folder_ + "/marks.json"), width_(width), height_(height) {
    // The server picks a display that is free and writes its number down.
    const std::string number = folder_ + "/display";
    const int file = ::open(number.c_str(), O_CREAT | O_RDWR | O_TRUNC, 0600);
    REQUIRE(file >= 0);
    const std::string side = std::to_string(std::max(width, height));
    server_ = Child(
        {"Xvfb", "-displayfd", std::to_string(file), "-screen", "0", side + "x" + side + "x24", "-nolisten", "tcp"},
        {});
    std::string found;
    for (int tries = 0; tries < 200 && found.find('\n') == std::string::npos; ++tries) {
        rest(25ms);
        std::ifstream in(number);
        found.assign(std::istreambuf_iterator<char>(in), {});
    }
    ::close(file);
    REQUIRE_MESSAGE(found.find('\n') != std::string::npos, "Xvfb did not start: is the package xvfb installed?");
    display_ = "DISPLAY=:" + found.substr(0, found.find('\n'));
}

void Screen::start(const std::vector<std::string>& arguments) {
    std::remove(marks_.c_str());
    std::vector<std::string> words = {TAPWRIGHT_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    words.insert(words.end(), {"--marks", marks_, "--size", std::to_string(width_) + "x" + std::to_string(height_),
                               "--scale", "1", "--theme", "day"});
    program_ = Child(words, {display_, "XDG_CONFIG_HOME=" + folder_, "HOME=" + folder_, "LIBGL_ALWAYS_SOFTWARE=1"});
    for (int tries = 0; tries < 400 && marks_text().empty(); ++tries) rest(25ms);
    REQUIRE_MESSAGE(!marks_text().empty(), "the window drew no frame");
    // Without a window manager the keys go to where the pointer is.
    xdotool({"mousemove", std::to_string(width_ / 2), std::to_string(height_ / 2)});
    settled(marks_text());
}

std::string Screen::marks_text() const {
    std::ifstream in(marks_);
    return {std::istreambuf_iterator<char>(in), {}};
}

Value Screen::mark(const std::string& name) {
    const Result<Value> marks = parse_json(marks_text(), "marks");
    if (!marks) return {};
    Value found;
    for (const Value& each : *marks->list())
        if (*each.find("name").text() == name) found = each;
    return found;
}

bool Screen::sees(const std::string& name) {
    const Value found = mark(name);
    return !found.is_null() && *found.find("visible").flag();
}

std::string Screen::text(const std::string& name) {
    const Value found = mark(name);
    return found.is_null() ? std::string() : *found.find("text").text();
}

bool Screen::waits_for(const std::string& name) {
    for (int tries = 0; tries < 800 && !sees(name); ++tries) rest(25ms);
    return sees(name);
}

bool Screen::waits_for_text(const std::string& name, const std::string& part) {
    for (int tries = 0; tries < 800 && text(name).find(part) == std::string::npos; ++tries) rest(25ms);
    return text(name).find(part) != std::string::npos;
}

void Screen::xdotool(std::vector<std::string> words) {
    words.insert(words.begin(), "xdotool");
    output_of(words, {display_});
}

// Waits until the marks changed, or two seconds when nothing on the screen changes, and then for them to rest.
void Screen::settled(const std::string& before) {
    std::string now = marks_text();
    for (int tries = 0; tries < 80 && now == before; ++tries) {  // a busy machine is slow
        rest(25ms);
        now = marks_text();
    }
    for (std::string last; last != now;) {
        last = now;
        rest(80ms);
        now = marks_text();
    }
}

void Screen::tap(const std::string& name) {
    REQUIRE_MESSAGE(waits_for(name), name << " is not in sight");
    const Value found = mark(name);
    const std::string before = marks_text();
    const auto middle = [&](std::size_t at) {
        return std::to_string(static_cast<int>(number_at(found, at) + number_at(found, at + 2) / 2));
    };
    xdotool({"mousemove", middle(0), middle(1), "mousedown", "1"});
    rest(40ms);
    xdotool({"mouseup", "1"});
    settled(before);
}

void Screen::type(const std::string& text) {
    const std::string before = marks_text();
    xdotool({"type", "--delay", "30", text});
    settled(before);
}

void Screen::press(const std::string& key) {
    const std::string before = marks_text();
    xdotool({"key", key});
    settled(before);
}

void Screen::wheel(const std::string& over, int notches) {
    const Value found = mark(over);
    const std::string before = marks_text();
    if (!found.is_null())
        xdotool({"mousemove", std::to_string(static_cast<int>(number_at(found, 0) + number_at(found, 2) / 2)),
                 std::to_string(static_cast<int>(number_at(found, 1) + number_at(found, 3) / 2))});
    xdotool({"click", "--repeat", std::to_string(std::abs(notches)), "--delay", "20", notches > 0 ? "5" : "4"});
    settled(before);
}

void Screen::resize(int width, int height) {
    const std::string before = marks_text();
    width_ = width;
    height_ = height;
    xdotool({"search", "--onlyvisible", "--name", ".", "windowsize", std::to_string(width), std::to_string(height)});
    settled(before);
}

void Screen::find(const std::string& name) {
    // What the last touch opens may come a frame after what the touch itself changed.
    for (int tries = 0; tries < 100 && mark(name).is_null(); ++tries) rest(50ms);
    for (int tries = 0; tries < 40 && !sees(name); ++tries) {
        const Value found = mark(name);
        REQUIRE_MESSAGE(!found.is_null(), "there is no mark called " << name);
        const bool below = 2 * number_at(found, 1) > height_;
        const std::string before = marks_text();
        xdotool({"mousemove", std::to_string(width_ * 6 / 10), std::to_string(height_ / 2), "click", "--repeat", "3",
                 "--delay", "20", below ? "5" : "4"});
        settled(before);
    }
    REQUIRE_MESSAGE(sees(name), name << " did not come into sight");
}

}  // namespace tapwright::test
