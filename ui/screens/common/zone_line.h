// One zone's line as screens show it: the drawing from the amplifier to the last loudspeaker, and the level along it as
// a chart. Made anew when the job or the zone is another; every figure comes from Derived.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "core/session/session.h"
#include "ui/drawings/line_drawing.h"
#include "ui/screens/common/cached.h"
#include "ui/widgets/chart.h"

namespace tapwright::ui {

// Where a fault may be, as the search has it.
struct Suspect {
    Id at;
    bool is_run = false;  // the run that feeds it, not the point
    Message word;         // "suspect, 63 %"
    Message figure;       // "63 %", where there is room for no more
};

class ZoneLineView {
public:
    // Takes up the zone's line. Requires: the zone is in the session's job.
    void look(const Session& session, const Id& zone);

    bool empty() const { return data_.points.empty(); }
    // Points that hang on no zone at all.
    const std::vector<Id>& untraced() const { return untraced_; }

    // Marks those points, the likeliest first, until others are; an empty list marks none. The likeliest comes into
    // sight when it is another one. After look().
    void suspect(const std::vector<Suspect>& suspects);

    // The drawing, `height` pixels high. Marks as line_drawing(). Returns: the point that was touched; an empty id for
    // the amplifier's end.
    std::optional<Id> draw(Context& context, std::string_view name, const Id& selected, float height);
    // The level at each loudspeaker with every attenuator full, in the order of the line, against the job's loss limit.
    // Returns: the loudspeaker that was touched.
    std::optional<Id> draw_levels(Context& context, std::string_view name, const Id& selected);

private:
    void collect(const Session& session, std::uint32_t zone);
    void add(const Session& session, std::size_t place);
    void mark_findings(const Derived& derived);
    void chart_levels(const Session& session);

    LineDrawingData data_;
    LineView view_;
    ChartData levels_;
    std::vector<Id> charted_;  // the point of each one on the chart
    std::vector<Id> untraced_;
    Id zone_, likeliest_;
    Seen<Id> seen_;
};

}  // namespace tapwright::ui
