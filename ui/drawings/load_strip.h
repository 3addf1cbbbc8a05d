// The load strip: what hangs on a zone, as wide as its watts, against the zone's limit.
//
// One block for each loudspeaker; the reserve is marked off before the limit; load that a reading shows but nobody
// recorded is a hatched block; a trial's additions are dashed; a thin second strip below shows the amplifier. What goes
// beyond the limit is drawn beyond it, framed, with a sign. The strip knows no arithmetic of the trade: sums, headroom
// and words come ready in the data, and it only divides its width.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct LoadBlock {
    enum class Kind { recorded, planned, unrecorded, trial };
    std::string id;  // its mark is STRIP.block.ID
    Message label;   // shown where it fits; what is not recorded is said below the strip where it does not
    double watts = 0;
    Kind kind = Kind::recorded;
    bool selected = false;
};

struct LoadStripData {
    Message title;          // for example "Zone 2"
    Message headroom;       // the deciding number, for example "57.5 W"
    Message headroom_word;  // "headroom", "into the reserve", "over the limit"
    Message load;           // "22.5 of 100 W", wraps below
    bool compact = false;   // no words below the strips unless the amplifier\'s tone is serious: for a phone
    Tone tone = Tone::plain;
    double limit_w = 0;  // 0: unknown
    double reserve_w = 0;
    std::vector<LoadBlock> blocks;
    // The amplifier beneath; no strip when `amplifier` is empty.
    Message amplifier;  // for example "Amplifier 1: 167.5 of 180 W"
    double amplifier_load_w = 0, amplifier_limit_w = 0;
    Tone amplifier_tone = Tone::plain;
};

// Where everything goes, in pixels from the strip's left edge. Blocks keep their order and touch one another; their
// widths are in the ratio of their watts.
struct LoadStripLayout {
    struct Span {
        float left = 0, right = 0;
        float width() const { return right - left; }
    };
    std::vector<Span> blocks;
    Span reserve;     // zero width where no limit is known
    float limit = 0;  // x of the limit; the whole width where none is known
    float load_end = 0;
    bool over = false;  // the load goes beyond the limit
    float pixels_per_watt = 0;
    // True when one of the upright marks (reserve, limit) would run through words of that width in the middle of the
    // span.
    bool marks_cross(const Span& span, float words) const;
};
// Requires: width > 0, no watts below 0.
LoadStripLayout lay_out_load_strip(std::span<const LoadBlock> blocks, double limit_w, double reserve_w, float width);

struct LoadStripTouch {
    int block = -1;       // index of the block that was tapped
    bool tapped = false;  // anywhere on the strip
};

// Marks NAME, NAME.headroom and NAME.block.ID for blocks (not targets of their own: a tap on the strip finds the block
// under the finger).
LoadStripTouch load_strip(Context& context, std::string_view name, const LoadStripData& data);

// The same in one line that opens: zone, figure, and the bar below them. In the height given, at least a touch high.
// Marks NAME and NAME.headroom. Returns: true when it was touched.
bool load_line(Context& context, std::string_view name, const LoadStripData& data, float height);

}  // namespace tapwright::ui
