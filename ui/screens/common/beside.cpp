// Beside the page on a wide window: the line of the zone in hand, and the level along it.
#include <algorithm>

#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
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
        if (line_.empty()) return quiet_paragraph(context, Message("Nothing on this line yet."));
        const float height = ImGui::GetContentRegionAvail().y - context.px(236);
        const auto on_line = line_.draw(context, "beside.line", shared_.point, std::max(height, context.px(200)));
        const auto on_chart = line_.draw_levels(context, "beside.levels", shared_.point);
        for (const std::optional<Id>& touched : {on_line, on_chart}) {
            if (!touched) continue;
            shared_.point = *touched;
            if (*touched != Id()) context.requests.open(point_screen(shared_, *touched));
        }
    }

private:
    ZoneLineView line_;
};

}  // namespace

std::unique_ptr<Screen> beside_screen(Shared& shared) {
    return std::make_unique<Beside>(shared);
}

}  // namespace tapwright::ui
