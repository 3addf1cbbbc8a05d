// What a message holds, before anybody makes text of it.
#include "core/base/message.h"

#include <doctest/doctest.h>

#include <string>

#include "core/units/unit.h"

using namespace tapwright;

TEST_CASE("a message knows its pattern and what stands in its places") {
    const Message message = Message("{zone}: {load} drawn.", {{"zone", entered("Hall")}, {"load", Watts(7.5)}});
    CHECK(std::string(message.pattern().text) == "{zone}: {load} drawn.");
    REQUIRE(message.find("load"));
    const auto* load = std::get_if<Figure>(&message.find("load")->value());
    REQUIRE(load);
    CHECK(load->value == 7.5);
    CHECK(load->unit == Unit::watt);
    CHECK(message.find("volts") == nullptr);
}

TEST_CASE("nothing to say is empty") {
    CHECK(Message().empty());
    CHECK(sentences(std::vector<Message>()).empty());
    CHECK(sentences({Message(), Message()}).empty());
    CHECK_FALSE(Message("Done.").empty());
    CHECK_FALSE(Message(entered("")).empty());
}

TEST_CASE("one sentence among empty ones is that sentence") {
    const Message alone = sentences({Message(), Message("Done."), Message()});
    CHECK(alone.sentences().empty());
    CHECK(std::string(alone.pattern().text) == "Done.");
    CHECK(sentences({Message("One."), Message("Two.")}).sentences().size() == 2);
}

TEST_CASE("a plural fills its count unless that is given otherwise") {
    const Message three = plural("{count} lamp", "{count} lamps", 3);
    CHECK(three.count() == 3);
    REQUIRE(three.find("count"));
    CHECK(std::get<Count>(three.find("count")->value()).value == 3);
    const Message figure = plural("{count} watt", "{count} watts", 2, {{"count", Watts(2)}});
    CHECK(std::holds_alternative<Figure>(figure.find("count")->value()));
}

TEST_CASE("a problem without a place is the problem") {
    CHECK(std::string(placed(Message(), Message("It is cold.")).pattern().text) == "It is cold.");
    CHECK(placed(Message("Hall"), Message("It is cold.")).named().size() == 2);
}

TEST_CASE("copies and moves keep a message whole") {
    Message message = sentences({Message("{name} is on.", {{"name", entered("A")}}), Message("Two.")});
    const Message copy = message;
    const Message moved = std::move(message);
    CHECK(copy.sentences().size() == 2);
    CHECK(moved.sentences().front().find("name"));
}
