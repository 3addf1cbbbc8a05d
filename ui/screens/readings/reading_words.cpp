// What was measured and what it means, in the few words that fit a row, a label and a badge.
#include <array>
#include <cmath>

#include "ui/screens/common/places.h"

namespace tapwright::ui {
namespace {

constexpr std::array quantity_titles = {Pattern("Impedance"),           Pattern("DC resistance"),
                                        Pattern("Insulation to earth"), Pattern("Insulation to other lines"),
                                        Pattern("Stray voltage"),       Pattern("Line voltage"),
                                        Pattern("Sound level"),         Pattern("Noise level"),
                                        Pattern("Tap as found")};
static_assert(quantity_titles.size() == ChoiceWords<Measured>::words.size());

bool is_endless(Ohms ohms) {
    return std::isinf(ohms.value());
}

}  // namespace

VerdictWords verdict_words(const Judgement& judgement) {
    VerdictWords words;
    switch (judgement.verdict) {
        case Verdict::not_judged:
            words = {Tone::plain, Message("Not judged")};
            break;
        case Verdict::open:
            words = {Tone::warning, Message("Open line")};
            break;
        case Verdict::shorted:
            words = {Tone::stop, Message("Short circuit")};
            break;
        case Verdict::more_load:
            words = {Tone::warning, Message("More load")};
            break;
        case Verdict::less_load:
            words = {Tone::warning, Message("Less load")};
            break;
        case Verdict::drifted:
            words = {Tone::note, Message("Changed")};
            break;
        case Verdict::agrees:
            words = {Tone::good, Message("Matches record")};
            // Good is only what a valid reading shows of the record as it is now.
            if (!judgement.is_valid) words = {Tone::plain, Message("Unproven")};
            if (judgement.expected_now) words = {Tone::note, Message("Read again")};
            break;
    }
    if (judgement.limit == LimitState::stop) words.tone = Tone::stop;
    if (judgement.limit == LimitState::warn && words.tone != Tone::stop) words.tone = Tone::warning;
    return words;
}

Message measured_title(Measured quantity) {
    return quantity_titles[static_cast<std::size_t>(quantity)];
}

Message band_words(const Judgement& judgement) {
    if (!judgement.expected) return Message("not known: a tap or feed is not recorded");
    if (is_endless(*judgement.expected))
        return judgement.planned > 0 ? Message("open: nothing connected yet") : Message("nothing recorded here yet");
    if (!judgement.low || !judgement.high) return *judgement.expected;
    if (judgement.expected_all)
        return Message("{expected} (accept {low} to {high}); {all} once all is connected",
                       {{"expected", *judgement.expected},
                        {"low", rounded_up(*judgement.low)},
                        {"high", rounded_down(*judgement.high)},
                        {"all", *judgement.expected_all}});
    return Message("{expected} (accept {low} to {high})", {{"expected", *judgement.expected},
                                                           {"low", rounded_up(*judgement.low)},
                                                           {"high", rounded_down(*judgement.high)}});
}

Message expected_words(const Judgement& judgement) {
    if (!judgement.expected) return Message("Expected value not known: a tap or feed is not recorded");
    if (is_endless(*judgement.expected))
        return judgement.planned > 0 ? Message("Nothing connected here yet") : Message("Nothing recorded here yet");
    if (!judgement.low || !judgement.high) return Message("Expected {expected}", {{"expected", *judgement.expected}});
    return Message("Expected {expected} (accept {low} to {high})", {{"expected", *judgement.expected},
                                                                    {"low", rounded_up(*judgement.low)},
                                                                    {"high", rounded_down(*judgement.high)}});
}

}  // namespace tapwright::ui
