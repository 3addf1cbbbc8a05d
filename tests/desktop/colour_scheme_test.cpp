// The desktop's colour scheme, read from a portal of our own on a bus of our own.
#include "platform/desktop/colour_scheme.h"

#include <dbus/dbus.h>
#include <doctest/doctest.h>
#include <signal.h>
#include <stdlib.h>

#include <atomic>
#include <chrono>
#include <cstdio>
#include <optional>
#include <string>
#include <thread>

using namespace tapwright::desktop;

namespace {

// A message bus that ends with the test, and is the session's meanwhile.
class Bus {
public:
    Bus() : out_(::popen("exec dbus-daemon --session --nofork --print-address=1 --print-pid=1", "r")) {
        REQUIRE(out_ != nullptr);
        char line[500] = "";
        REQUIRE(std::fgets(line, sizeof line, out_) != nullptr);
        address = line;
        while (!address.empty() && address.back() == '\n') address.pop_back();
        REQUIRE(std::fgets(line, sizeof line, out_) != nullptr);
        pid_ = std::atoi(line);
        REQUIRE(pid_ > 0);
        ::setenv("DBUS_SESSION_BUS_ADDRESS", address.c_str(), 1);
    }
    ~Bus() {
        ::unsetenv("DBUS_SESSION_BUS_ADDRESS");
        ::kill(pid_, SIGTERM);
        ::pclose(out_);
    }
    Bus(const Bus&) = delete;
    Bus& operator=(const Bus&) = delete;

    std::string address;

private:
    std::FILE* out_;
    int pid_ = 0;
};

// One for all tests: the library remembers the first address it is given.
const std::string& bus_address() {
    static const Bus bus;
    return bus.address;
}

// A portal that answers every question with that scheme, two variants deep, as the real one does.
class Portal {
public:
    explicit Portal(dbus_uint32_t scheme) {
        REQUIRE(dbus_threads_init_default());
        bus_ = dbus_bus_get_private(DBUS_BUS_SESSION, nullptr);
        REQUIRE(bus_ != nullptr);
        dbus_connection_set_exit_on_disconnect(bus_, FALSE);
        REQUIRE(dbus_bus_request_name(bus_, "org.freedesktop.portal.Desktop", 0, nullptr) ==
                DBUS_REQUEST_NAME_REPLY_PRIMARY_OWNER);
        thread_ = std::thread([this, scheme] {
            while (!over_ && dbus_connection_read_write(bus_, 20))
                while (DBusMessage* question = dbus_connection_pop_message(bus_)) {
                    if (dbus_message_is_method_call(question, "org.freedesktop.portal.Settings", "Read"))
                        answer(question, scheme);
                    dbus_message_unref(question);
                }
        });
    }
    ~Portal() {
        over_ = true;
        thread_.join();
        dbus_connection_close(bus_);
        dbus_connection_unref(bus_);
    }
    // Says that a setting has changed.
    void say(const char* group, const char* key, dbus_uint32_t value) {
        DBusMessage* signal = dbus_message_new_signal("/org/freedesktop/portal/desktop",
                                                      "org.freedesktop.portal.Settings", "SettingChanged");
        DBusMessageIter at, inner;
        dbus_message_iter_init_append(signal, &at);
        dbus_message_iter_append_basic(&at, DBUS_TYPE_STRING, &group);
        dbus_message_iter_append_basic(&at, DBUS_TYPE_STRING, &key);
        dbus_message_iter_open_container(&at, DBUS_TYPE_VARIANT, "u", &inner);
        dbus_message_iter_append_basic(&inner, DBUS_TYPE_UINT32, &value);
        dbus_message_iter_close_container(&at, &inner);
        dbus_connection_send(bus_, signal, nullptr);
        dbus_connection_flush(bus_);
        dbus_message_unref(signal);
    }

    Portal(const Portal&) = delete;
    Portal& operator=(const Portal&) = delete;

private:
    void answer(DBusMessage* question, dbus_uint32_t scheme) {
        const char *group = "", *key = "";
        dbus_message_get_args(question, nullptr, DBUS_TYPE_STRING, &group, DBUS_TYPE_STRING, &key, DBUS_TYPE_INVALID);
        const bool is_asked_well =
            std::string(group) == "org.freedesktop.appearance" && std::string(key) == "color-scheme";
        DBusMessage* reply = dbus_message_new_method_return(question);
        DBusMessageIter at, outer, inner;
        const dbus_uint32_t value = is_asked_well ? scheme : 0;
        dbus_message_iter_init_append(reply, &at);
        dbus_message_iter_open_container(&at, DBUS_TYPE_VARIANT, "v", &outer);
        dbus_message_iter_open_container(&outer, DBUS_TYPE_VARIANT, "u", &inner);
        dbus_message_iter_append_basic(&inner, DBUS_TYPE_UINT32, &value);
        dbus_message_iter_close_container(&outer, &inner);
        dbus_message_iter_close_container(&at, &outer);
        dbus_connection_send(bus_, reply, nullptr);
        dbus_connection_flush(bus_);
        dbus_message_unref(reply);
    }

    DBusConnection* bus_ = nullptr;
    std::atomic<bool> over_{false};
    std::thread thread_;
};

}  // namespace

TEST_CASE("a desktop that prefers dark is night, every other one day") {
    REQUIRE(!bus_address().empty());
    CHECK_FALSE(portal_prefers_dark());  // nobody answers
    for (const dbus_uint32_t scheme : {0U, 1U, 2U}) {
        const Portal portal(scheme);
        CHECK(portal_prefers_dark() == (scheme == 1));
    }
}

TEST_CASE("without a bus it is day, and none is started") {
    const std::string address = bus_address();
    const Portal portal(1);
    ::unsetenv("DBUS_SESSION_BUS_ADDRESS");
    CHECK_FALSE(portal_prefers_dark());
    ::setenv("DBUS_SESSION_BUS_ADDRESS", address.c_str(), 1);
    CHECK(portal_prefers_dark());
}

TEST_CASE("the answer comes beside the drawing, and a new one can be asked for") {
    REQUIRE(!bus_address().empty());
    ColourScheme scheme;
    std::atomic<int> answers{0};
    const auto ask_and_wait = [&] {
        const int before = answers;
        scheme.ask([&] { ++answers; });
        for (int i = 0; i < 500 && answers == before; ++i) std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(answers == before + 1);
    };
    {
        const Portal portal(1);
        ask_and_wait();
        CHECK(scheme.prefers_dark());
    }
    const Portal portal(2);
    ask_and_wait();
    CHECK_FALSE(scheme.prefers_dark());
}

TEST_CASE("a change of the desktop's scheme is taken over as it is said, without being asked") {
    REQUIRE(!bus_address().empty());
    Portal portal(0);
    ColourScheme scheme;
    std::atomic<int> changes{0};
    scheme.follow([&] { ++changes; });
    // Said until it is heard: the follower may not have reached the bus yet.
    const auto say_until_heard = [&](dbus_uint32_t value) {
        const int before = changes;
        for (int i = 0; i < 100 && changes == before; ++i) {
            portal.say("org.freedesktop.appearance", "color-scheme", value);
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        }
        REQUIRE(changes > before);
    };
    say_until_heard(1);
    CHECK(scheme.prefers_dark());
    std::this_thread::sleep_for(std::chrono::milliseconds(200));  // what was said more than once
    say_until_heard(2);
    CHECK_FALSE(scheme.prefers_dark());
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    // Another setting is none of ours.
    const int before = changes;
    portal.say("org.freedesktop.appearance", "contrast", 1);
    portal.say("org.example.other", "color-scheme", 1);
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    CHECK(changes == before);
    CHECK_FALSE(scheme.prefers_dark());
}
