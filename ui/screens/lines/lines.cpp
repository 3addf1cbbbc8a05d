// Lines: one zone's line as it is recorded, to walk along, to look into and to re-feed; the level along it as a chart.
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

#include "ui/screens/common/feed.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/common/zone_line.h"
#include "ui/screens/lines/cable.h"
#include "ui/screens/lines/point_figures.h"
#include "ui/screens/lines/trials.h"
#include "ui/widgets/columns.h"

namespace tapwright::ui {
namespace {

constexpr float two_columns_from = 600, drawing_share = 0.56F, least_drawing = 220;

class LinesScreen : public TitledScreen {
public:
    explicit LinesScreen(Shared& shared) : TitledScreen(shared, Message("Lines")) {}
    Message title(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        if (!zone) return TitledScreen::title(context);
        return Message("Line of {zone}", {{"zone", entered(name_of(context.session->job(), zone->id))}});
    }
    bool shows_load(Context&) override { return true; }
    bool draws_line(Context&) override { return true; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone) return draw_first(context);
        if (zone_ != zone->id) selected_ = Id();
        zone_ = zone->id;
        line_.look(*context.session, zone->id);
        if (line_.empty()) {
            draw_choices(context);
            empty_state(context, Shape::lines, Message("Nothing on this line yet"),
                        Message("Record a loudspeaker in its room, fed from this zone."));
            draw_rest(context, zone->id);
        } else if (width_left() >= context.px(two_columns_from)) {
            draw_two_columns(context, zone->id);
        } else {
            draw_one_column(context, zone->id);
        }
    }

private:
    void draw_first(Context& context) {
        empty_state(context, Shape::lines, Message("No zones yet"),
                    Message("A zone is a separately fed line. Add the first one; its limit can follow later."));
        if (button(context, "lines.set_up", Message("Set up the amplifier"), {.shape = Shape::amplifier}))
            context.requests.open(set_up_screen(shared_));
        if (!button(context, "lines.add", Message("Add the first zone"),
                    {.kind = ButtonKind::primary, .shape = Shape::plus}))
            return;
        const std::string name = context.words.text(Message("Zone {number}", {{"number", 1}}));
        shared_.ask(context, {adding(Kind::zone, {{"name", name}})}, Message("{zone} added", {{"zone", entered(name)}}),
                    [this](const std::vector<Id>& ids) { shared_.zone = ids.front(); });
    }

    void select(Context& context, const std::optional<Id>& point) {
        if (!point) return;
        shared_.point = selected_ = *point;
        show_figures_ = true;
        context.requests.another_frame();
    }

    // The page's height that can be seen at once.
    static float height_in_sight() {
        const ImGuiWindow* window = ImGui::GetCurrentWindow();
        return window->InnerRect.GetHeight() - 2 * window->WindowPadding.y;
    }

    void draw_try(Context& context) {
        if (button(context, "lines.trials", Message("Try changes"), {.shape = Shape::lines}))
            context.requests.open(trials_screen(shared_));
    }

    void draw_choices(Context& context) {
        draw_try(context);
        zone_row(context, shared_, "lines.zone");
    }

    // Drawing and figures share what can be seen at once.
    void draw_one_column(Context& context, const Id& zone) {
        const float top = ImGui::GetCursorPosY(), gap = context.px(measure::gap);
        draw_choices(context);
        const float used = ImGui::GetCursorPosY() - top + gap + figures_height(context, width_left());
        draw_line(context, height_in_sight() - used);
        draw_point(context);
        draw_rest(context, zone);
    }

    void draw_two_columns(Context& context, const Id& zone) {
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float width = width_left(), gap = context.px(measure::margin);
        const float left = std::floor((width - gap) * drawing_share);
        float bottom = 0;
        {
            const Column drawing(at, left);
            draw_line(context, height_in_sight());
        }
        bottom = column_bottom();
        {
            const Column beside_it(ImVec2(at.x + left + gap, at.y), width - gap - left);
            draw_try(context);
            draw_point(context);
            zone_row(context, shared_, "lines.zone");
            draw_rest(context, zone);
        }
        bottom = std::max(bottom, column_bottom());
        ImGui::SetCursorScreenPos(at);
        ImGui::Dummy(ImVec2(width, bottom - at.y));
    }

    void draw_line(Context& context, float height) {
        select(context, line_.draw(context, "line", selected_, std::max(height, context.px(least_drawing))));
    }

    void draw_point(Context& context) {
        const Session& session = *context.session;
        draw_figures(context, session, selected_);
        show_figures(context);
        if (selected_ == Id() || !session.job().has(Kind::point, selected_)) return;
        draw_actions(context, selected_);
    }

    // What was touched says its figures at once, wherever on the page it was touched.
    void show_figures(Context& context) {
        if (!std::exchange(show_figures_, false)) return;
        const ImRect area(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
        ImGuiWindow* window = ImGui::GetCurrentWindow();
        if (window->InnerRect.Contains(area)) return;
        ImGui::ScrollToRect(window, area, ImGuiScrollFlags_KeepVisibleEdgeY);
        context.requests.another_frame();
    }

    void draw_rest(Context& context, const Id& zone) {
        select(context, line_.draw_levels(context, "lines.levels", selected_));
        draw_untraced(context);
        if (button(context, "lines.cable", Message("How long, which cable"), {.shape = Shape::lines}))
            context.requests.open(cable_screen(shared_, *context.session));
        if (button(context, "lines.zone_details", Message("Limit, output, voltage, level control"),
                   {.shape = Shape::amplifier}))
            context.requests.open(record_screen(shared_, Kind::zone, zone));
        if (button(context, "lines.set_up", Message("Amplifiers, outputs, zones"), {.shape = Shape::amplifier}))
            context.requests.open(set_up_screen(shared_));
    }

    // Side by side where each has its words in one line.
    void draw_actions(Context& context, const Id& id) {
        const Message labels[] = {Message("Readings"), Message("Other feed"), Message("Open")};
        constexpr float both_sides = 28;
        const float third = share_of_width(context, 3);
        const bool fits = std::all_of(std::begin(labels), std::end(labels), [&](const Message& label) {
            return text_width(context, TextSize::strong, context.words.text(label)) + context.px(both_sides) <= third;
        });
        const float width = fits ? third : 0;
        if (button(context, "lines.read", labels[0], {.width = width}))
            context.requests.open(readings_at_screen(shared_, id));
        if (fits) beside(context);
        if (button(context, "lines.refeed", labels[1], {.width = width})) ask_what_feeds(context, shared_, id);
        if (fits) beside(context);
        if (button(context, "lines.open", labels[2], {.width = width}))
            context.requests.open(point_screen(shared_, id));
    }

    void draw_untraced(Context& context) {
        if (line_.untraced().empty()) return;
        section_title(context, plural("{count} point not traced to any zone", "{count} points not traced to any zone",
                                      static_cast<std::int64_t>(line_.untraced().size())));
        for (const Id& id : line_.untraced()) {
            Row row;
            row.title = entered(name_of(context.session->job(), id));
            row.detail = Message("Touch to choose what feeds it");
            row.tone = Tone::warning;
            row.word = Message("Not traced");
            if (list_row(context, "lines.untraced." + id.text(), row).tapped) ask_what_feeds(context, shared_, id);
        }
    }

    ZoneLineView line_;
    Id zone_, selected_;
    bool show_figures_ = false;
};

}  // namespace

std::unique_ptr<Screen> lines_screen(Shared& shared) {
    return std::make_unique<LinesScreen>(shared);
}

}  // namespace tapwright::ui
