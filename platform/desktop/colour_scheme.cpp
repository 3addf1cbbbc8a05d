#include "platform/desktop/colour_scheme.h"

#include <chrono>
#include <cstdlib>
#include <utility>

#ifdef TAPWRIGHT_DBUS
#include <dbus/dbus.h>
#endif

namespace tapwright::desktop {

#ifdef TAPWRIGHT_DBUS
namespace {

constexpr int longest_wait_ms = 500;
constexpr dbus_uint32_t prefer_dark = 1;  // 0 no preference, 2 light

// The figure inside however many variants: Read() wraps its answer in two.
bool is_dark(DBusMessage* reply) {
    DBusMessageIter at;
    if (!dbus_message_iter_init(reply, &at)) return false;
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
    const char *group = "org.freedesktop.appearance", *key = "color-scheme";
    bool dark = false;
    if (dbus_message_append_args(question, DBUS_TYPE_STRING, &group, DBUS_TYPE_STRING, &key, DBUS_TYPE_INVALID)) {
        DBusMessage* reply = dbus_connection_send_with_reply_and_block(bus, question, longest_wait_ms, nullptr);
        if (reply) dark = is_dark(reply);
        if (reply) dbus_message_unref(reply);
    }
    dbus_message_unref(question);
    return dark;
}

}  // namespace

bool portal_prefers_dark() {
    // Without an address the library would start a bus of its own.
    if (!std::getenv("DBUS_SESSION_BUS_ADDRESS") || !dbus_threads_init_default()) return false;
    DBusConnection* bus = dbus_bus_get_private(DBUS_BUS_SESSION, nullptr);
    if (!bus) return false;
    dbus_connection_set_exit_on_disconnect(bus, FALSE);
    const bool dark = asked_of(bus);
    dbus_connection_close(bus);
    dbus_connection_unref(bus);
    return dark;
}
#else
bool portal_prefers_dark() {
    return false;
}
#endif

ColourScheme::~ColourScheme() {
    if (thread_.joinable()) thread_.join();
}

void ColourScheme::ask(std::function<void()> answered) {
    {
        const std::lock_guard lock(mutex_);
        if (std::exchange(is_asking_, true)) return;
    }
    if (thread_.joinable()) thread_.join();
    thread_ = std::thread([this, answered = std::move(answered)] {
        const bool dark = portal_prefers_dark();
        {
            const std::lock_guard lock(mutex_);
            dark_ = dark;
            has_answer_ = true;
            is_asking_ = false;
        }
        came_.notify_all();
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
