// The closed lists of words a field may hold, each an enumeration whose enumerators are the words themselves (with an
// underscore behind those that C++ keeps for itself).
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string_view>

#include "core/base/message.h"

namespace tapwright {

namespace detail {

constexpr std::size_t count_words(std::string_view list) {
    std::size_t count = 1;
    for (const char c : list) count += c == ',';
    return count;
}

// "tile, open, private_" to {"tile", "open", "private"}.
template <std::size_t count>
constexpr std::array<std::string_view, count> split_words(std::string_view list) {
    std::array<std::string_view, count> words{};
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t comma = list.find(',');
        std::string_view word = list.substr(0, comma);
        while (!word.empty() && word.front() == ' ') word.remove_prefix(1);
        if (word.ends_with('_')) word.remove_suffix(1);
        words[i] = word;
        list.remove_prefix(comma == std::string_view::npos ? list.size() : comma + 1);
    }
    return words;
}

}  // namespace detail

// The keys of a choice, as files hold them, in the order of its enumerators. Words for people: core/words/choices.h.
template <class Choice>
struct ChoiceWords;

#define TAPWRIGHT_CHOICE_AS(Type, all, ...)                                               \
    enum class Type : std::uint8_t { __VA_ARGS__ };                                       \
    template <>                                                                           \
    struct ChoiceWords<Type> {                                                            \
        static constexpr std::string_view list = #Type;                                   \
        static constexpr auto words = detail::split_words<detail::count_words(all)>(all); \
    };
#define TAPWRIGHT_CHOICE(Type, ...) TAPWRIGHT_CHOICE_AS(Type, #__VA_ARGS__, __VA_ARGS__)

TAPWRIGHT_CHOICE(UnitSystem, metric, imperial)
TAPWRIGHT_CHOICE(Answer, yes, no)
TAPWRIGHT_CHOICE(Ceiling, tile, plaster, open, wall, outdoor)
TAPWRIGHT_CHOICE(ChannelMode, line, low_z, bridged)
TAPWRIGHT_CHOICE(ZoneOutput, switched, stepped, direct, low_z)
TAPWRIGHT_CHOICE_AS(WiringClass, "1, 2, 3, unknown", class_1, class_2, class_3, unknown)
TAPWRIGHT_CHOICE(Mount, ceiling, wall, pendant, horn, outdoor)
TAPWRIGHT_CHOICE(TapMeans, drawn, delivered)
TAPWRIGHT_CHOICE(AttenuatorBuild, autotransformer, l_pad)
TAPWRIGHT_CHOICE(Override, none, energise, release, third_wire)
TAPWRIGHT_CHOICE(CableStrand, solid, stranded)
TAPWRIGHT_CHOICE(CableMetal, copper, cca)
TAPWRIGHT_CHOICE(PointKind, speaker, attenuator, splice, other)
TAPWRIGHT_CHOICE(FeedSide, out, in)
TAPWRIGHT_CHOICE(Wired, line, low_z, off)
TAPWRIGHT_CHOICE(PointState, planned, cabled, fitted, tested)
TAPWRIGHT_CHOICE(Origin, existing, new_)
TAPWRIGHT_CHOICE(Polarity, ok, reversed)
TAPWRIGHT_CHOICE(Heard, ok, silent, buzz, low)
TAPWRIGHT_CHOICE(ControlKind, speaker_side, remote)
TAPWRIGHT_CHOICE(InterfaceKind, fire_mute, paging, bells, override_24v, background)
TAPWRIGHT_CHOICE(Purpose, survey, first_fix, second_fix, commissioning, handover, service)
TAPWRIGHT_CHOICE(Measured, ohms, dc_ohms, earth_ohms, cross_ohms, stray_v, volts, level_dba, noise_dba, tap_w)
TAPWRIGHT_CHOICE(Signal, none, tone, pink, programme)
TAPWRIGHT_CHOICE(SnagState, open, closed)
TAPWRIGHT_CHOICE(Share, owner, technician, private_)
TAPWRIGHT_CHOICE(SheetReader, owner, technician)
TAPWRIGHT_CHOICE(ChangeOp, add, set, remove)

#undef TAPWRIGHT_CHOICE
#undef TAPWRIGHT_CHOICE_AS

template <class Choice>
constexpr std::string_view word(Choice choice) {
    return ChoiceWords<Choice>::words[static_cast<std::size_t>(choice)];
}

// A choice in a Message: {"purpose", *visit.purpose}.
template <class Listed>
requires requires {
    ChoiceWords<Listed>::list;
}
Argument as_argument(Listed choice) {
    return Choice{ChoiceWords<Listed>::list, word(choice)};
}

}  // namespace tapwright
