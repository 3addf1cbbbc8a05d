#include "core/words/pseudo.h"

#include <doctest/doctest.h>

#include <string>

#include "core/job/choices.h"
#include "core/units/unit.h"
#include "core/words/words.h"

using namespace tapwright;

TEST_CASE("the pseudo-language accents what is ours and leaves places alone") {
    CHECK(std::string(pseudo_pattern("{zone}: open")) == "«{zone}: óopéeñ»");
    CHECK(pseudo_pattern("once").data() == pseudo_pattern("once").data());
}

TEST_CASE("figures and what people entered stay, whatever stands in a message is marked") {
    const Words words(pseudo());
    const auto text = [&](const Message& message) { return words.text(message); };
    CHECK(text(Message("{zone}: {load} drawn.", {{"zone", entered("Hall")}, {"load", Watts(7.5)}})) ==
          "«Hall: 7.5 W dŕáawñ.»");
    CHECK(text(entered("Hall")) == "Hall");
    CHECK(text(code("tap_w")) == "tap_w");
    CHECK(text(Watts(7.5)) == "7.5 W");
    CHECK(text(Message("It: {word}.", {{"word", Purpose::survey}})) == "«ÏIţ: «šüuŕvéeýy».»");
    CHECK(text(plural("{count} lamp", "{count} lamps", 2)) == "«2 ĺáampš»");
}

TEST_CASE("a pseudo text is longer, as a translation may be") {
    const std::string english = "Amplifier off, then swap its two wires.";
    const std::string longer(pseudo_pattern("Amplifier off, then swap its two wires."));
    CHECK(longer.size() * 10 >= english.size() * 13);
}
