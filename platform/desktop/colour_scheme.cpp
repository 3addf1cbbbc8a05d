#include "platform/desktop/colour_scheme.h"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>

#ifdef TAPWRIGHT_DBUS
#include <dbus/dbus.h>
#endif

namespace tapwright::desktop {

#ifdef TAPWRIGHT_DBUS
namespace {

constexpr int longest_wait_ms = 500;
constexpr dbus_uint32_t prefer_dark = 1;  // 0 no preference, 2 light

constexpr const char* scheme_group = "org.freedesktop.appearance";
constexpr const char* scheme_key = "color-scheme";

// The figure inside however many variants: Read() wraps its answer in two.
bool is_dark(DBusMessageIter at) {
    while (dbus_message_iter_get_arg_type(&at) == DBUS_TYPE_VARIANT) {
        DBusMessageIter inside;
        dbus_message_iter_recurse(&at, &inside);
        at = inside;
    }
    if (dbus_message_iter_get_arg_type(&at) != DBUS_TYPE_UINT32) return false;
    dbus_uint32_t scheme = 0;
    dbus_message_iter_get_basic(&at, &scheme);
    return scheme == prefer_dark;
}

bool asked_of(DBusConnection* bus) {
    DBusMessage* question = dbus_message_new_method_call(
        "org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop", "org.freedesktop.portal.Settings", "Read");
    if (!question) return false;
    const char *group = scheme_group, *key = scheme_key;
    bool dark = false;
    if (dbus_message_append_args(question, DBUS_TYPE_STRING, &group, DBUS_TYPE_STRING, &key, DBUS_TYPE_INVALID)) {
        DBusMessage* reply = dbus_connection_send_with_reply_and_block(bus, question, longest_wait_ms, nullptr);
        DBusMessageIter at;
        if (reply && dbus_message_iter_init(reply, &at)) dark = is_dark(at);
        if (reply) dbus_message_unref(reply);
    }
    dbus_message_unref(question);
    return dark;
}

// A connection of our own; null where there is no bus.
struct CloseBus {
    void operator()(DBusConnection* bus) const {
        dbus_connection_close(bus);
        dbus_connection_unref(bus);
    }
};
using Bus = std::unique_ptr<DBusConnection, CloseBus>;
Bus session_bus() {
    // Without an address the library would start a bus of its own.
    if (!std::getenv("DBUS_SESSION_BUS_ADDRESS") || !dbus_threads_init_default()) return nullptr;
    Bus bus(dbus_bus_get_private(DBUS_BUS_SESSION, nullptr));
    if (bus) dbus_connection_set_exit_on_disconnect(bus.get(), FALSE);
    return bus;
}

// What a signal says of the scheme; nothing where it is about something else.
std::optional<bool> said_in(DBusMessage* signal) {
    if (!dbus_message_is_signal(signal, "org.freedesktop.portal.Settings", "SettingChanged")) return std::nullopt;
    DBusMessageIter at;
    if (!dbus_message_iter_init(signal, &at)) return std::nullopt;
    for (const char* wanted : {scheme_group, scheme_key}) {
        const char* text = "";
        if (dbus_message_iter_get_arg_type(&at) != DBUS_TYPE_STRING) return std::nullopt;
        dbus_message_iter_get_basic(&at, &text);
        if (std::string_view(text) != wanted) return std::nullopt;
        dbus_message_iter_next(&at);
    }
    return is_dark(at);
}

// Sleeps until the bus or the other end of `end` says something; ends with either.
void follow_portal(int end, const std::function<void(bool)>& say) {
    const Bus bus = session_bus();
    int socket = -1;
    if (!bus || !dbus_connection_get_unix_fd(bus.get(), &socket)) return;
    dbus_bus_add_match(bus.get(),
                       "type='signal',interface='org.freedesktop.portal.Settings',member='SettingChanged',"
                       "path='/org/freedesktop/portal/desktop'",
                       nullptr);
    dbus_connection_flush(bus.get());
    while (dbus_connection_read_write(bus.get(), 0)) {
        while (DBusMessage* message = dbus_connection_pop_message(bus.get())) {
            const std::optional<bool> dark = said_in(message);
            dbus_message_unref(message);
            if (dark) say(*dark);
        }
        pollfd ends[] = {{socket, POLLIN, 0}, {end, POLLIN, 0}};
        if (::poll(ends, 2, -1) < 0 && errno != EINTR) return;
        if (ends[1].revents != 0) return;
    }
}

}  // namespace

bool portal_prefers_dark() {
    const Bus bus = session_bus();
    return bus && asked_of(bus.get());
}
#else
namespace {

void follow_portal(int, const std::function<void(bool)>&) {}

}  // namespace

bool portal_prefers_dark() {
    return false;
}
#endif

ColourScheme::~ColourScheme() {
    if (thread_.joinable()) thread_.join();
    if (!follower_.joinable()) return;
    ::close(end_[1]);
    follower_.join();
    ::close(end_[0]);
}

void ColourScheme::take(bool dark) {
    {
        const std::lock_guard lock(mutex_);
        dark_ = dark;
        has_answer_ = true;
    }
    came_.notify_all();
}

void ColourScheme::follow(std::function<void()> changed) {
    if (follower_.joinable() || ::pipe2(end_, O_CLOEXEC) != 0) return;
    follower_ = std::thread([this, changed = std::move(changed)] {
        follow_portal(end_[0], [&](bool dark) {
            take(dark);
            changed();
        });
    });
}

void ColourScheme::ask(std::function<void()> answered) {
    {
        const std::lock_guard lock(mutex_);
        if (std::exchange(is_asking_, true)) return;
    }
    if (thread_.joinable()) thread_.join();
    thread_ = std::thread([this, answered = std::move(answered)] {
        take(portal_prefers_dark());
        {
            const std::lock_guard lock(mutex_);
            is_asking_ = false;
        }
        answered();
    });
}

bool ColourScheme::prefers_dark() {
    std::unique_lock lock(mutex_);
    if (!std::exchange(has_waited_, true) && is_asking_)
        came_.wait_for(lock, std::chrono::milliseconds(100), [this] { return has_answer_; });
    return dark_;
}

}  // namespace tapwright::desktop
