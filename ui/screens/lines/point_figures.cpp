#include "ui/screens/lines/point_figures.h"

#include <algorithm>

#include "core/words/expected_text.h"
#include "core/words/place_name.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr float padding = 12;

// As long as they get, so that the room for them is there from the start.
Message longest() {
    return read_out({Message("level {level}", {{"level", Decibels(-28.8)}}),
                     Message("cable {loss}", {{"loss", Decibels(-28.8)}}), Volts(70.7),
                     Message("{ohms} from here on", {{"ohms", Ohms(888)}}),
                     Message("{watts} headroom here", {{"watts", Watts(88.8)}}),
                     Message("fed from {feed}", {{"feed", entered("L-888")}})});
}

Message figures_of(const Session& session, std::size_t place) {
    const Job& job = session.job();
    const Point& point = job.all<Point>()[place];
    const PointOnLine& state = session.derived().points[place];
    if (state.emergency) return Message("Part of a fire or emergency line: nothing is calculated here.");
    Message feed = point.fed_from ? Message("fed from {feed}", {{"feed", entered(name_of(job, *point.fed_from))}})
                                  : Message("feed not traced");
    if (state.zone == nowhere) return feed;
    return read_out({state.level ? Message("level {level}", {{"level", known_along(state, *state.level)}}) : Message(),
                     state.cable ? Message("cable {loss}", {{"loss", known_along(state, *state.cable)}}) : Message(),
                     state.is_past_unknown_run ? Message("at most {volts}", {{"volts", state.volts}}) : state.volts,
                     Message("{ohms} from here on", {{"ohms", state.ohms}}),
                     state.can_add ? Message("{watts} headroom here", {{"watts", may_add(*state.can_add)}}) : Message(),
                     feed});
}

Message title_of_point(const Job& job, const Point& point) {
    const Message room = point.room ? Message(entered(name_of(job, *point.room))) : Message();
    return read_out({entered(name_of(job, point.id)), point.tap_w ? Message(*point.tap_w) : Message(), room});
}

}  // namespace

float figures_height(Context& context, float width) {
    const float room = std::max(1.0F, width - 2 * context.px(padding));
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(longest()), room);
    return line_height(context, TextSize::strong) + lines.height + 2 * context.px(padding);
}

void draw_figures(Context& context, const Session& session, const Id& point) {
    const float width = width_left(), inside = context.px(padding);
    const float room = std::max(1.0F, width - 2 * inside), strong = line_height(context, TextSize::strong);
    const auto place = session.job().place<Point>(point);
    const Message title = place ? title_of_point(session.job(), session.job().all<Point>()[*place])
                                : Message("Touch a point for its figures");
    const Message figures = place ? figures_of(session, *place) : Message("Thicker lines carry more watts.");
    const Lines lines = broken_into_lines(context, TextSize::body, context.words.text(figures), room);
    const float height = std::max(figures_height(context, width), strong + lines.height + 2 * inside);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::Dummy(ImVec2(width, height));
    ImDrawList* list = ImGui::GetWindowDrawList();
    panel(context, list, {at.x, at.y, width, height}, context.theme.card, context.theme.line, 12);
    const Colour colour = place ? context.theme.text : context.theme.quiet_text;
    write_line(context, list, TextSize::strong, colour, context.words.text(title),
               {at.x + inside, at.y + inside, room, strong});
    write(context, list, TextSize::body, colour, lines, {at.x + inside, at.y + inside + strong, room, lines.height});
    mark_area(context, "lines.figures", {at.x, at.y, width, height}, context.words.text(read_out({title, figures})));
}

}  // namespace tapwright::ui
