// Whether the person's desktop is set to a dark appearance: the colour scheme of the desktop portal's settings
// (org.freedesktop.portal.Settings, key color-scheme of org.freedesktop.appearance), read over the session's D-Bus.
#pragma once

#include <condition_variable>
#include <functional>
#include <mutex>
#include <thread>

namespace tapwright::desktop {

// Asks the portal and waits for its answer, half a second at most. Returns: false where there is no session bus, no
// portal, no preference, or the program was built without D-Bus. Starts no bus and no other program by itself.
bool portal_prefers_dark();

// The same asked on a thread of its own, so that no frame ever waits for another program.
class ColourScheme {
public:
    ColourScheme() = default;
    ~ColourScheme();
    ColourScheme(const ColourScheme&) = delete;
    ColourScheme& operator=(const ColourScheme&) = delete;

    // Asks once more, unless an answer is still awaited. `answered` runs on the other thread when it has come, and must
    // be good as long as this is.
    void ask(std::function<void()> answered);
    // Takes over what the portal says of a change from now on, without being asked: `changed` as above. It sleeps until
    // something is said. Once is enough; where there is no bus nothing comes.
    void follow(std::function<void()> changed);
    // What was said last; the first answer is waited for a tenth of a second, so that a window begins as it stays.
    bool prefers_dark();

private:
    void take(bool dark);

    std::mutex mutex_;
    std::condition_variable came_;
    bool is_asking_ = false, has_answer_ = false, has_waited_ = false, dark_ = false;
    std::thread thread_, follower_;
    int end_[2] = {-1, -1};  // a pipe: the follower ends once it is closed
};

}  // namespace tapwright::desktop
