#include "core/words/choices.h"

#include <algorithm>
#include <iterator>
#include <string_view>

#include "core/base/ensure.h"

// THE WORDS OF CHOICES. CHOICE(list, key, "words", "Words"): within a sentence, and as a title. The list is the context
// of the translation, for one English word may be several elsewhere.
#define TAPWRIGHT_CHOICE_WORDS(CHOICE)                                                                          \
    CHOICE("UnitSystem", "metric", "metric", "Metric")                                                          \
    CHOICE("UnitSystem", "imperial", "feet and inches", "Feet and inches")                                      \
    CHOICE("Ceiling", "tile", "tiles", "Tiles")                                                                 \
    CHOICE("Ceiling", "plaster", "plaster", "Plaster")                                                          \
    CHOICE("Ceiling", "open", "open ceiling", "Open ceiling")                                                   \
    CHOICE("Ceiling", "wall", "wall", "Wall")                                                                   \
    CHOICE("Ceiling", "outdoor", "outdoors", "Outdoors")                                                        \
    CHOICE("ChannelMode", "line", "line", "Line")                                                               \
    CHOICE("ChannelMode", "low_z", "low impedance", "Low impedance")                                            \
    CHOICE("ChannelMode", "bridged", "bridged", "Bridged")                                                      \
    CHOICE("ZoneOutput", "switched", "through a relay", "Through a relay")                                      \
    CHOICE("ZoneOutput", "stepped", "through a stepped level control", "Through a stepped level control")       \
    CHOICE("ZoneOutput", "direct", "direct", "Direct")                                                          \
    CHOICE("ZoneOutput", "low_z", "low impedance", "Low impedance")                                             \
    CHOICE("Answer", "yes", "yes", "Yes")                                                                       \
    CHOICE("Answer", "no", "no", "No")                                                                          \
    CHOICE("WiringClass", "1", "Class 1", "Class 1")                                                            \
    CHOICE("WiringClass", "2", "Class 2", "Class 2")                                                            \
    CHOICE("WiringClass", "3", "Class 3", "Class 3")                                                            \
    CHOICE("WiringClass", "unknown", "not marked", "Not marked")                                                \
    CHOICE("Mount", "ceiling", "ceiling", "Ceiling")                                                            \
    CHOICE("Mount", "wall", "wall", "Wall")                                                                     \
    CHOICE("Mount", "pendant", "pendant", "Pendant")                                                            \
    CHOICE("Mount", "horn", "horn", "Horn")                                                                     \
    CHOICE("Mount", "outdoor", "outdoor", "Outdoor")                                                            \
    CHOICE("TapMeans", "drawn", "watts drawn from the line", "Watts drawn from the line")                       \
    CHOICE("TapMeans", "delivered", "watts delivered to the loudspeaker", "Watts delivered to the loudspeaker") \
    CHOICE("AttenuatorBuild", "autotransformer", "autotransformer", "Autotransformer")                          \
    CHOICE("AttenuatorBuild", "l_pad", "L-pad", "L-pad")                                                        \
    CHOICE("Override", "none", "no override", "No override")                                                    \
    CHOICE("Override", "energise", "relay pulls in to override", "Relay pulls in to override")                  \
    CHOICE("Override", "release", "relay drops out to override", "Relay drops out to override")                 \
    CHOICE("Override", "third_wire", "third wire overrides", "Third wire overrides")                            \
    CHOICE("CableStrand", "solid", "solid", "Solid")                                                            \
    CHOICE("CableStrand", "stranded", "stranded", "Stranded")                                                   \
    CHOICE("CableMetal", "copper", "copper", "Copper")                                                          \
    CHOICE("CableMetal", "cca", "copper-clad aluminium", "Copper-clad aluminium")                               \
    CHOICE("PointKind", "speaker", "loudspeaker", "Loudspeaker")                                                \
    CHOICE("PointKind", "attenuator", "attenuator", "Attenuator")                                               \
    CHOICE("PointKind", "splice", "joint (splice)", "Joint (splice)")                                           \
    CHOICE("PointKind", "other", "other part", "Other part")                                                    \
    CHOICE("FeedSide", "out", "after the attenuator", "After the attenuator")                                   \
    CHOICE("FeedSide", "in", "looped through at its input", "Looped through at its input")                      \
    CHOICE("Wired", "line", "on the line", "On the line")                                                       \
    CHOICE("Wired", "low_z", "8 Ω (bypass) setting", "8 Ω (bypass) setting")                                    \
    CHOICE("Wired", "off", "not connected", "Not connected")                                                    \
    CHOICE("PointState", "planned", "planned, not fitted", "Planned, not fitted")                               \
    CHOICE("PointState", "cabled", "cabled, not fitted", "Cabled, not fitted")                                  \
    CHOICE("PointState", "fitted", "fitted", "Fitted")                                                          \
    CHOICE("PointState", "tested", "tested", "Tested")                                                          \
    CHOICE("Origin", "existing", "there before", "There before")                                                \
    CHOICE("Origin", "new", "new", "New")                                                                       \
    CHOICE("Polarity", "ok", "in phase", "In phase")                                                            \
    CHOICE("Polarity", "reversed", "reversed", "Reversed")                                                      \
    CHOICE("Heard", "ok", "heard, sounds right", "Heard, sounds right")                                         \
    CHOICE("Heard", "silent", "silent", "Silent")                                                               \
    CHOICE("Heard", "buzz", "buzzes", "Buzzes")                                                                 \
    CHOICE("Heard", "low", "too quiet", "Too quiet")                                                            \
    CHOICE("ControlKind", "speaker_side", "on the loudspeaker side", "On the loudspeaker side")                 \
    CHOICE("ControlKind", "remote", "remote control", "Remote control")                                         \
    CHOICE("InterfaceKind", "fire_mute", "music muted by the fire alarm", "Music muted by the fire alarm")      \
    CHOICE("InterfaceKind", "paging", "paging", "Paging")                                                       \
    CHOICE("InterfaceKind", "bells", "bells", "Bells")                                                          \
    CHOICE("InterfaceKind", "override_24v", "24 V override supply", "24 V override supply")                     \
    CHOICE("InterfaceKind", "background", "background music", "Background music")                               \
    CHOICE("Purpose", "survey", "survey", "Survey")                                                             \
    CHOICE("Purpose", "first_fix", "first fix", "First fix")                                                    \
    CHOICE("Purpose", "second_fix", "second fix", "Second fix")                                                 \
    CHOICE("Purpose", "commissioning", "commissioning", "Commissioning")                                        \
    CHOICE("Purpose", "handover", "handover", "Handover")                                                       \
    CHOICE("Purpose", "service", "service", "Service")                                                          \
    CHOICE("Measured", "ohms", "impedance", "Impedance")                                                        \
    CHOICE("Measured", "dc_ohms", "DC resistance", "DC resistance")                                             \
    CHOICE("Measured", "earth_ohms", "insulation to earth", "Insulation to earth")                              \
    CHOICE("Measured", "cross_ohms", "insulation to other lines", "Insulation to other lines")                  \
    CHOICE("Measured", "stray_v", "stray voltage", "Stray voltage")                                             \
    CHOICE("Measured", "volts", "line voltage", "Line voltage")                                                 \
    CHOICE("Measured", "level_dba", "sound level", "Sound level")                                               \
    CHOICE("Measured", "noise_dba", "noise level", "Noise level")                                               \
    CHOICE("Measured", "tap_w", "tap as found", "Tap as found")                                                 \
    CHOICE("Signal", "none", "none", "None")                                                                    \
    CHOICE("Signal", "tone", "tone", "Tone")                                                                    \
    CHOICE("Signal", "pink", "pink noise", "Pink noise")                                                        \
    CHOICE("Signal", "programme", "programme", "Programme")                                                     \
    CHOICE("SnagState", "open", "open", "Open")                                                                 \
    CHOICE("SnagState", "closed", "fixed", "Fixed")                                                             \
    CHOICE("Share", "owner", "owner and technician", "Owner and technician")                                    \
    CHOICE("Share", "technician", "technician only", "Technician only")                                         \
    CHOICE("Share", "private", "private", "Private")                                                            \
    CHOICE("SheetReader", "owner", "owner", "Owner")                                                            \
    CHOICE("SheetReader", "technician", "technician", "Technician")                                             \
    CHOICE("ChangeOp", "add", "added", "Added")                                                                 \
    CHOICE("ChangeOp", "set", "changed", "Changed")                                                             \
    CHOICE("ChangeOp", "remove", "removed", "Removed")                                                          \
    CHOICE("Basis", "as_built", "as built", "As built")                                                         \
    CHOICE("Basis", "planned", "partly planned", "Partly planned")                                              \
    CHOICE("Basis", "at_least", "at least", "At least")                                                         \
    CHOICE("Verdict", "not_judged", "not judged", "Not judged")                                                 \
    CHOICE("Verdict", "open", "open line", "Open line")                                                         \
    CHOICE("Verdict", "short", "short circuit", "Short circuit")                                                \
    CHOICE("Verdict", "more_load", "more load than recorded", "More load than recorded")                        \
    CHOICE("Verdict", "less_load", "less load than recorded", "Less load than recorded")                        \
    CHOICE("Verdict", "drifted", "changed since the baseline", "Changed since the baseline")                    \
    CHOICE("Verdict", "agrees", "matches the record", "Matches the record")                                     \
    CHOICE("LimitState", "ok", "within the limit", "Within the limit")                                          \
    CHOICE("LimitState", "warn", "above the limit", "Above the limit")                                          \
    CHOICE("LimitState", "stop", "far above the limit", "Far above the limit")                                  \
    CHOICE("Grid", "square", "square", "Square")                                                                \
    CHOICE("Grid", "staggered", "staggered", "Staggered")                                                       \
    CHOICE("LayoutRule", "touching", "touching", "Touching")                                                    \
    CHOICE("LayoutRule", "gapless", "gapless", "Gapless")                                                       \
    CHOICE("LayoutRule", "double", "double", "Double")                                                          \
    CHOICE("Aim", "fewest", "fewest loudspeakers to re-tap", "Fewest loudspeakers to re-tap")                   \
    CHOICE("Aim", "level", "levels closest to today's", "Levels closest to today's")                            \
    CHOICE("Aim", "wanted", "levels closest to those wanted", "Levels closest to those wanted")                 \
    CHOICE("Severity", "stop", "stop", "Stop")                                                                  \
    CHOICE("Severity", "warn", "warning", "Warning")                                                            \
    CHOICE("Severity", "note", "note", "Note")

namespace tapwright {
namespace {

struct Row {
    std::string_view list;
    std::string_view key;
    Pattern words;
    Pattern title;
};
constexpr Row rows[] = {
#define TAPWRIGHT_ROW(list, key, words, title) \
    {list, key, Pattern(list, words, nullptr), Pattern(list, title, nullptr)},
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
    return Message(choice.is_title ? row->title : row->words);
}

Message as_title(Message message) {
    if (message.pattern().text != std::string_view("{}")) return message;
    const Choice* alone = std::get_if<Choice>(&message.named().front().value.value());
    return alone ? Message(Choice{alone->list, alone->key, true}) : message;
}

bool has_words(const Choice& choice) {
    return row_of(choice) != nullptr;
}

}  // namespace tapwright
