// A display without a screen, the real program on it, and somebody with a pointer and a keyboard: Xvfb and xdotool.
#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

#include "core/job/value.h"

namespace tapwright::test {

// A process of ours that is gone when the test is over.
class Child {
public:
    Child() = default;
    Child(const std::vector<std::string>& words, const std::vector<std::string>& environment);
    ~Child() { stop(15); }
    Child(const Child&) = delete;
    Child& operator=(const Child&) = delete;
    Child(Child&& other) noexcept;
    Child& operator=(Child&& other) noexcept;

    // Sends the signal and waits for the end.
    void stop(int signal);
    bool is_running() const { return id_ > 0; }
    pid_t id() const { return id_; }

private:
    pid_t id_ = -1;
};

class Screen {
public:
    // Starts a display for a window of that many pixels, and for what it may be resized to. Settings and other files go
    // to `folder`.
    Screen(std::string folder, int width, int height);

    // Opens the window with these arguments and waits for its first frame.
    void start(const std::vector<std::string>& arguments);
    // The program ends as if the power had gone.
    void kill() { program_.stop(9); }
    void close() { program_.stop(15); }
    pid_t program() const { return program_.id(); }
    std::string display() const { return display_.substr(display_.find('=') + 1); }  // ":99"

    // ---- acts, each done when the window has drawn what came of it ----
    void tap(const std::string& mark);
    void type(const std::string& text);  // plain letters, digits and points
    void press(const std::string& key);  // "Escape", "ctrl+z"
    void wheel(const std::string& over, int notches);
    // Gives the window another size, as when a phone is turned. Requires: neither side is longer than the longer one
    // was.
    void resize(int width, int height);
    // Turns the wheel over the page until the mark is in sight.
    void find(const std::string& mark);

    // ---- looks ----
    bool sees(const std::string& mark);
    std::string text(const std::string& mark);
    // Waits at most twenty seconds for the mark to be in sight: a busy machine is slow, not wrong.
    bool waits_for(const std::string& mark);
    // Waits for a mark's text to hold `part`.
    bool waits_for_text(const std::string& mark, const std::string& part);

private:
    Value mark(const std::string& name);
    void xdotool(std::vector<std::string> words);
    void settled(const std::string& before);
    std::string marks_text() const;

    std::string folder_, marks_, display_;
    int width_, height_;
    Child server_, program_;
};

// Runs a program and gives what it wrote to standard output.
std::string output_of(const std::vector<std::string>& words, const std::vector<std::string>& environment);

}  // namespace tapwright::test
