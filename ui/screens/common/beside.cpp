// Beside the page on a wide window: the figures of what was touched last, the line of the zone in hand, and the level
// along it.
#include <algorithm>
#include <utility>

#include "core/words/expected_text.h"
#include "ui/screens/common/known.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/common/zone_line.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

class Beside : public TitledScreen {
public:
    explicit Beside(Shared& shared) : TitledScreen(shared, Message("Line")) {}
    Message title(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        return zone ? Message("Line of {zone}", {{"zone", entered(name_of(context.session->job(), zone->id))}})
                    : TitledScreen::title(context);
    }
    void draw(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        if (!zone) return;
        line_.look(*context.session, zone->id);
        const auto suspects = std::exchange(shared_.suspects, nullptr);
        line_.suspect(suspects ? *suspects : std::vector<Suspect>());
        if (line_.empty()) return quiet_paragraph(context, Message("Nothing on this line yet."));
        draw_figures(context, *context.session, zone->id);
        std::optional<Id> on_line;
        if (!shared_.page_draws_line) {
            const float height = ImGui::GetContentRegionAvail().y - context.px(236);
            on_line = line_.draw(context, "beside.line", shared_.point, std::max(height, context.px(200)));
        }
        const auto on_chart = line_.draw_levels(context, "beside.levels", shared_.point);
        for (const std::optional<Id>& touched : {on_line, on_chart}) {
            if (!touched) continue;
            shared_.point = *touched;
            if (*touched != Id()) context.requests.open(point_screen(shared_, *touched));
        }
    }

private:
    // Of the point that was touched last, where it is on this line.
    void draw_figures(Context& context, const Session& session, const Id& zone) const {
        const auto place = session.job().place<Point>(shared_.point);
        if (!place || zone_of_record(session, shared_.point).zone != zone) return;
        const Point& point = session.job().all<Point>()[*place];
        const PointOnLine& state = session.derived().points[*place];
        Card card(context);
        section_title(context, entered(name_of(session.job(), point.id)));
        if (is_speaker(point)) label_value(context, "beside.point.tap", Message("Tap"), known(point.tap_w));
        if (state.level)
            label_value(context, "beside.point.level", Message("Level, relative to tap"),
                        known_along(state, *state.level));
        if (state.cable)
            label_value(context, "beside.point.cable", Message("Cable loss"), known_along(state, *state.cable));
        label_value(context, "beside.point.ohms", Message("Impedance from here on"), state.ohms);
        if (state.can_add)
            label_value(context, "beside.point.can_add", Message("Headroom here"), may_add(*state.can_add));
    }

    ZoneLineView line_;
};

}  // namespace

std::unique_ptr<Screen> beside_screen(Shared& shared) {
    return std::make_unique<Beside>(shared);
}

}  // namespace tapwright::ui
