// Lines: one zone's line as it is recorded, to walk along, to look into and to re-feed; the level along it as a chart.
#include "core/units/unit.h"
#include "core/words/expected_text.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/known.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/common/zone_line.h"
#include "ui/screens/lines/cable.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

class LinesScreen : public TitledScreen {
public:
    explicit LinesScreen(Shared& shared) : TitledScreen(shared, Message("Lines")) {}
    Message title(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        if (!zone) return TitledScreen::title(context);
        return Message("Line of {zone}", {{"zone", entered(name_of(context.session->job(), zone->id))}});
    }
    bool shows_load(Context&) override { return true; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone) return draw_first(context);
        zone_row(context, shared_, "lines.zone");
        if (zone_ != zone->id) selected_ = Id();
        zone_ = zone->id;
        line_.look(*context.session, zone->id);
        if (line_.empty()) {
            empty_state(context, Shape::lines, Message("Nothing on this line yet"),
                        Message("Record a loudspeaker in its room, fed from this zone."));
        } else {
            const float height = context.px(context.wide ? 440 : 400);
            if (const auto touched = line_.draw(context, "line", selected_, height)) select(*touched);
            draw_point(context);
            if (const auto touched = line_.draw_levels(context, "lines.levels", selected_)) select(*touched);
        }
        draw_untraced(context);
        if (button(context, "lines.trials", Message("Try changes before making them"), {.shape = Shape::lines}))
            context.requests.open(trials_screen(shared_));
        if (button(context, "lines.cable", Message("How long, which cable"), {.shape = Shape::lines}))
            context.requests.open(cable_screen(shared_, *context.session));
        if (button(context, "lines.zone_details", Message("Limit, output, voltage, level control"),
                   {.shape = Shape::amplifier}))
            context.requests.open(record_screen(shared_, Kind::zone, zone->id));
        if (button(context, "lines.set_up", Message("Amplifiers, outputs, zones"), {.shape = Shape::amplifier}))
            context.requests.open(set_up_screen(shared_));
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

    void select(const Id& point) { shared_.point = selected_ = point; }

    void draw_point(Context& context) {
        const Session& session = *context.session;
        const auto place = session.job().place<Point>(selected_);
        if (selected_ == Id() || !place) {
            quiet_paragraph(context, Message("Touch a point for details. Thicker lines carry more watts."));
            return;
        }
        const Point& point = session.job().all<Point>()[*place];
        const PointOnLine& state = session.derived().points[*place];
        Card card(context);
        section_title(context, entered(name_of(session.job(), point.id)));
        if (is_speaker(point)) label_value(context, "lines.point.tap", Message("Tap"), known(point.tap_w));
        if (state.level)
            label_value(context, "lines.point.level", Message("Level, relative to tap"),
                        known_along(state, *state.level));
        if (state.cable)
            label_value(context, "lines.point.cable", Message("Cable loss"), known_along(state, *state.cable));
        label_value(context, "lines.point.volts", Message("Voltage at full level"), state.volts);
        label_value(context, "lines.point.ohms", Message("Impedance from here on"), state.ohms);
        if (state.can_add)
            label_value(context, "lines.point.can_add", Message("Headroom here"), may_add(*state.can_add));
        label_value(context, "lines.point.feed", Message("Fed from"),
                    point.fed_from ? entered(name_of(session.job(), point.fed_from)) : Message("not traced"));
        draw_actions(context, point.id);
    }

    void draw_actions(Context& context, const Id& id) {
        if (button(context, "lines.refeed", Message("Choose another feed"), {.shape = Shape::lines}))
            refeed(context, id);
        if (button(context, "lines.read", Message("Readings here"), {.shape = Shape::readings}))
            context.requests.open(readings_at_screen(shared_, id));
        if (button(context, "lines.open", Message("Open this point"), {.shape = Shape::chevron}))
            context.requests.open(point_screen(shared_, id));
    }

    void refeed(Context& context, const Id& id) {
        const Job& job = context.session->job();
        const Point* point = job.find<Point>(id);
        const Message label = entered(name_of(job, id));
        context.requests.open(pick_screen(
            shared_,
            {.title = Message("What feeds {point}?", {{"point", label}}),
             .kinds = {Kind::zone, Kind::point},
             .current = point && point->fed_from ? *point->fed_from : Id(),
             .not_this = id},
            [this, id, label](Context& picked, const Id& feed) {
                const Value value = feed == Id() ? Value() : Value(feed.text());
                const Message what =
                    feed == Id() ? Message("{point} not traced", {{"point", label}})
                                 : Message("{point} fed from {feed}",
                                           {{"point", label}, {"feed", entered(name_of(picked.session->job(), feed))}});
                shared_.ask(picked, {setting(Kind::point, id, {{"fed_from", value}})}, what);
            }));
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
            if (list_row(context, "lines.untraced." + id.text(), row).tapped) refeed(context, id);
        }
    }

    ZoneLineView line_;
    Id zone_, selected_;
};

}  // namespace

std::unique_ptr<Screen> lines_screen(Shared& shared) {
    return std::make_unique<LinesScreen>(shared);
}

}  // namespace tapwright::ui
