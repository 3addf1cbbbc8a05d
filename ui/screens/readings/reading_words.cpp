// What was measured and what it means, in the few words that fit a row, a label and a badge.
#include <array>
#include <cmath>

#include "core/readings/readings.h"
#include "core/words/expected_text.h"
#include "core/words/reading_parts.h"
#include "ui/screens/common/places.h"

namespace tapwright::ui {
namespace {

constexpr std::array quantity_titles = {Pattern("Impedance"),           Pattern("DC resistance"),
                                        Pattern("Insulation to earth"), Pattern("Insulation to other lines"),
                                        Pattern("Stray voltage"),       Pattern("Line voltage"),
                                        Pattern("Sound level"),         Pattern("Noise level"),
                                        Pattern("Tap as found")};
static_assert(quantity_titles.size() == ChoiceWords<Measured>::words.size());

constexpr std::array quantity_shorts = {Pattern("Ω"),           Pattern("DC Ω"),        Pattern("Earth MΩ"),
                                        Pattern("Lines MΩ"),    Pattern("Stray V"),     Pattern("Line V"),
                                        Pattern("Level dB(A)"), Pattern("Noise dB(A)"), Pattern("Tap W")};
static_assert(quantity_shorts.size() == ChoiceWords<Measured>::words.size());

bool is_endless(Ohms ohms) {
    return std::isinf(ohms.value());
}

bool is_over(const Reading& reading) {
    return reading.over_range.value_or(false);
}

// Of ohms held against the record: what is to be minded first, else how far off it is.
Message detail_of(const Reading& reading, const Judgement& judgement, const Statement& statement) {
    if (judgement.limit == LimitState::stop || judgement.verdict == Verdict::shorted)
        return Message("Keep the amplifier off.");
    if (judgement.limit == LimitState::warn && judgement.against_limit.over)
        return Message("{over} over the limit", {{"over", rounded_up(*judgement.against_limit.over)}});
    if (judgement.verdict == Verdict::agrees && judgement.isolation == Isolation::not_stated)
        return Message("Not noted: disconnected");
    if (judgement.verdict == Verdict::not_judged || is_over(reading) || !judgement.expected ||
        is_endless(*judgement.expected))
        return statement.text;
    const double ratio = reading.value.value_or(0) / judgement.expected->value();
    return Message("{off} from {expected}",
                   {{"off", deviation(Percent((ratio - 1) * 100))}, {"expected", *judgement.expected}});
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

VerdictLines verdict_lines(const Reading& reading, const Judgement& judgement, const Statement& statement) {
    const double value = reading.value.value_or(0);
    switch (reading.quantity.value_or(Measured::noise_dba)) {
        case Measured::ohms: {
            const VerdictWords words = verdict_words(judgement);
            return {words.tone, words.word, detail_of(reading, judgement, statement)};
        }
        case Measured::stray_v:
            if (is_over(reading) || Volts(value) >= least_stray_volts)
                return {Tone::stop, Message("Treat the line as live"),
                        Message("{least} or more on the line", {{"least", least_stray_volts}})};
            return {Tone::plain, Message("Low enough for the meter"), Message("Not a proof that it is safe to touch")};
        case Measured::earth_ohms:
        case Measured::cross_ohms:
            if (!is_over(reading) && value < least_insulation_ohms)
                return {Tone::warning, Message("Low"),
                        Message("Below {least}", {{"least", Ohms(least_insulation_ohms)}})};
            return {Tone::plain, Message("As it should be"),
                    Message("{least} or more", {{"least", Ohms(least_insulation_ohms)}})};
        case Measured::dc_ohms:
            return {Tone::plain, Message("Not compared"), Message("DC shows neither load nor taps")};
        case Measured::volts:
        case Measured::level_dba:
        case Measured::noise_dba:
        case Measured::tap_w:
            break;
    }
    return {Tone::plain, Message("Not compared"), statement.text};
}

Message measured_short(Measured quantity) {
    return quantity_shorts[static_cast<std::size_t>(quantity)];
}

Message measured_title(Measured quantity) {
    return quantity_titles[static_cast<std::size_t>(quantity)];
}

Message band_words(const Judgement& judgement, const NotRecorded& missing, const NotRecorded& of_all) {
    if (!judgement.expected) return Message("not known: a tap or feed is not recorded");
    if (is_endless(*judgement.expected))
        return judgement.planned > 0 ? Message("open: nothing connected yet") : Message("nothing recorded here yet");
    if (!judgement.low || !judgement.high) return bounded(*judgement.expected, missing);
    if (judgement.expected_all)
        return Message("{expected} (accept {low} to {high}); {all} once all is connected",
                       {{"expected", bounded(*judgement.expected, missing)},
                        {"low", rounded_up(*judgement.low)},
                        {"high", rounded_down(*judgement.high)},
                        {"all", bounded(*judgement.expected_all, of_all)}});
    return Message("{expected} (accept {low} to {high})", {{"expected", bounded(*judgement.expected, missing)},
                                                           {"low", rounded_up(*judgement.low)},
                                                           {"high", rounded_down(*judgement.high)}});
}

Message expected_words(const Judgement& judgement, const NotRecorded& missing) {
    if (!judgement.expected) return Message("Expected value not known: a tap or feed is not recorded");
    if (is_endless(*judgement.expected))
        return judgement.planned > 0 ? Message("Nothing connected here yet") : Message("Nothing recorded here yet");
    if (!judgement.low || !judgement.high)
        return Message("Expected {expected}", {{"expected", bounded(*judgement.expected, missing)}});
    return Message("Expected {expected} (accept {low} to {high})", {{"expected", bounded(*judgement.expected, missing)},
                                                                    {"low", rounded_up(*judgement.low)},
                                                                    {"high", rounded_down(*judgement.high)}});
}

}  // namespace tapwright::ui
