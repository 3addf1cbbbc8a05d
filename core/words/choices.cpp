#include "core/words/choices.h"

#include <algorithm>
#include <iterator>
#include <string_view>

#include "core/base/ensure.h"

// THE WORDS OF CHOICES. CHOICE(list, key, "words"): the list is the context of the translation, for one English word
// may be several elsewhere.
#define TAPWRIGHT_CHOICE_WORDS(CHOICE)                                    \
    CHOICE("UnitSystem", "metric", "metric")                              \
    CHOICE("UnitSystem", "imperial", "feet and inches")                   \
    CHOICE("Ceiling", "tile", "tiles")                                    \
    CHOICE("Ceiling", "plaster", "plaster")                               \
    CHOICE("Ceiling", "open", "open ceiling")                             \
    CHOICE("Ceiling", "wall", "wall")                                     \
    CHOICE("Ceiling", "outdoor", "outdoors")                              \
    CHOICE("ChannelMode", "line", "line")                                 \
    CHOICE("ChannelMode", "low_z", "low impedance")                       \
    CHOICE("ChannelMode", "bridged", "bridged")                           \
    CHOICE("ZoneOutput", "switched", "through a relay")                   \
    CHOICE("ZoneOutput", "stepped", "through a stepped level control")    \
    CHOICE("ZoneOutput", "direct", "direct")                              \
    CHOICE("ZoneOutput", "low_z", "low impedance")                        \
    CHOICE("Answer", "yes", "yes")                                        \
    CHOICE("Answer", "no", "no")                                          \
    CHOICE("WiringClass", "1", "Class 1")                                 \
    CHOICE("WiringClass", "2", "Class 2")                                 \
    CHOICE("WiringClass", "3", "Class 3")                                 \
    CHOICE("WiringClass", "unknown", "not marked")                        \
    CHOICE("Mount", "ceiling", "ceiling")                                 \
    CHOICE("Mount", "wall", "wall")                                       \
    CHOICE("Mount", "pendant", "pendant")                                 \
    CHOICE("Mount", "horn", "horn")                                       \
    CHOICE("Mount", "outdoor", "outdoor")                                 \
    CHOICE("TapMeans", "drawn", "watts drawn from the line")              \
    CHOICE("TapMeans", "delivered", "watts delivered to the loudspeaker") \
    CHOICE("AttenuatorBuild", "autotransformer", "autotransformer")       \
    CHOICE("AttenuatorBuild", "l_pad", "L-pad")                           \
    CHOICE("Override", "none", "no override")                             \
    CHOICE("Override", "energise", "relay pulls in to override")          \
    CHOICE("Override", "release", "relay drops out to override")          \
    CHOICE("Override", "third_wire", "third wire overrides")              \
    CHOICE("CableStrand", "solid", "solid")                               \
    CHOICE("CableStrand", "stranded", "stranded")                         \
    CHOICE("CableMetal", "copper", "copper")                              \
    CHOICE("CableMetal", "cca", "copper-clad aluminium")                  \
    CHOICE("PointKind", "speaker", "loudspeaker")                         \
    CHOICE("PointKind", "attenuator", "attenuator")                       \
    CHOICE("PointKind", "splice", "joint (splice)")                       \
    CHOICE("PointKind", "other", "other part")                            \
    CHOICE("FeedSide", "out", "after the attenuator")                     \
    CHOICE("FeedSide", "in", "looped through at its input")               \
    CHOICE("Wired", "line", "on the line")                                \
    CHOICE("Wired", "low_z", "8 Ω (bypass) setting")                      \
    CHOICE("Wired", "off", "not connected")                               \
    CHOICE("PointState", "planned", "planned, not fitted")                \
    CHOICE("PointState", "cabled", "cabled, not fitted")                  \
    CHOICE("PointState", "fitted", "fitted")                              \
    CHOICE("PointState", "tested", "tested")                              \
    CHOICE("Origin", "existing", "there before")                          \
    CHOICE("Origin", "new", "new")                                        \
    CHOICE("Polarity", "ok", "in phase")                                  \
    CHOICE("Polarity", "reversed", "reversed")                            \
    CHOICE("Heard", "ok", "heard, sounds right")                          \
    CHOICE("Heard", "silent", "silent")                                   \
    CHOICE("Heard", "buzz", "buzzes")                                     \
    CHOICE("Heard", "low", "too quiet")                                   \
    CHOICE("ControlKind", "speaker_side", "on the loudspeaker side")      \
    CHOICE("ControlKind", "remote", "remote control")                     \
    CHOICE("InterfaceKind", "fire_mute", "music muted by the fire alarm") \
    CHOICE("InterfaceKind", "paging", "paging")                           \
    CHOICE("InterfaceKind", "bells", "bells")                             \
    CHOICE("InterfaceKind", "override_24v", "24 V override supply")       \
    CHOICE("InterfaceKind", "background", "background music")             \
    CHOICE("Purpose", "survey", "survey")                                 \
    CHOICE("Purpose", "first_fix", "first fix")                           \
    CHOICE("Purpose", "second_fix", "second fix")                         \
    CHOICE("Purpose", "commissioning", "commissioning")                   \
    CHOICE("Purpose", "handover", "handover")                             \
    CHOICE("Purpose", "service", "service")                               \
    CHOICE("Measured", "ohms", "impedance")                               \
    CHOICE("Measured", "dc_ohms", "DC resistance")                        \
    CHOICE("Measured", "earth_ohms", "insulation to earth")               \
    CHOICE("Measured", "cross_ohms", "insulation to other lines")         \
    CHOICE("Measured", "stray_v", "stray voltage")                        \
    CHOICE("Measured", "volts", "line voltage")                           \
    CHOICE("Measured", "level_dba", "sound level")                        \
    CHOICE("Measured", "noise_dba", "noise level")                        \
    CHOICE("Measured", "tap_w", "tap as found")                           \
    CHOICE("Signal", "none", "none")                                      \
    CHOICE("Signal", "tone", "tone")                                      \
    CHOICE("Signal", "pink", "pink noise")                                \
    CHOICE("Signal", "programme", "programme")                            \
    CHOICE("SnagState", "open", "open")                                   \
    CHOICE("SnagState", "closed", "fixed")                                \
    CHOICE("Share", "owner", "owner and technician")                      \
    CHOICE("Share", "technician", "technician only")                      \
    CHOICE("Share", "private", "private")                                 \
    CHOICE("SheetReader", "owner", "owner")                               \
    CHOICE("SheetReader", "technician", "technician")                     \
    CHOICE("ChangeOp", "add", "added")                                    \
    CHOICE("ChangeOp", "set", "changed")                                  \
    CHOICE("ChangeOp", "remove", "removed")                               \
    CHOICE("Basis", "as_built", "as built")                               \
    CHOICE("Basis", "planned", "partly planned")                          \
    CHOICE("Basis", "at_least", "at least")                               \
    CHOICE("Verdict", "not_judged", "not judged")                         \
    CHOICE("Verdict", "open", "open line")                                \
    CHOICE("Verdict", "short", "short circuit")                           \
    CHOICE("Verdict", "more_load", "more load than recorded")             \
    CHOICE("Verdict", "less_load", "less load than recorded")             \
    CHOICE("Verdict", "drifted", "changed since the baseline")            \
    CHOICE("Verdict", "agrees", "matches the record")                     \
    CHOICE("LimitState", "ok", "within the limit")                        \
    CHOICE("LimitState", "warn", "above the limit")                       \
    CHOICE("LimitState", "stop", "far above the limit")                   \
    CHOICE("Grid", "square", "square")                                    \
    CHOICE("Grid", "staggered", "staggered")                              \
    CHOICE("LayoutRule", "touching", "touching")                          \
    CHOICE("LayoutRule", "gapless", "gapless")                            \
    CHOICE("LayoutRule", "double", "double")                              \
    CHOICE("Aim", "fewest", "fewest loudspeakers to re-tap")              \
    CHOICE("Aim", "level", "levels closest to today's")                   \
    CHOICE("Aim", "wanted", "levels closest to those wanted")             \
    CHOICE("Severity", "stop", "stop")                                    \
    CHOICE("Severity", "warn", "warning")                                 \
    CHOICE("Severity", "note", "note")

namespace tapwright {
namespace {

struct Row {
    std::string_view list;
    std::string_view key;
    Pattern words;
};
constexpr Row rows[] = {
#define TAPWRIGHT_ROW(list, key, words) {list, key, Pattern(list, words, nullptr)},
    TAPWRIGHT_CHOICE_WORDS(TAPWRIGHT_ROW)
#undef TAPWRIGHT_ROW
};

const Row* row_of(const Choice& choice) {
    const auto* const found = std::find_if(std::begin(rows), std::end(rows), [&](const Row& row) {
        return row.list == choice.list && row.key == choice.key;
    });
    return found == std::end(rows) ? nullptr : found;
}

}  // namespace

Message words_of(const Choice& choice) {
    const Row* row = row_of(choice);
    TAPWRIGHT_ENSURE(row);
    return Message(row->words);
}

bool has_words(const Choice& choice) {
    return row_of(choice) != nullptr;
}

}  // namespace tapwright
