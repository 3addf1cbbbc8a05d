// Lines: one zone's line as it is recorded, to walk along, to look into and to re-feed; the level along it as a chart.
#include <algorithm>

#include "core/base/text.h"
#include "core/units/text.h"
#include "ui/line_drawing.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/places.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

LinePoint::Kind drawn_kind(const Point& point) {
    switch (point.kind.value_or(PointKind::other)) {
        case PointKind::speaker:
            return LinePoint::Kind::loudspeaker;
        case PointKind::attenuator:
            return LinePoint::Kind::attenuator;
        case PointKind::splice:
            return LinePoint::Kind::splice;
        case PointKind::other:
            break;
    }
    return LinePoint::Kind::other;
}

class LinesScreen : public Screen {
public:
    explicit LinesScreen(Shared& shared) : shared_(shared) {}
    std::string title(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        return zone ? "Line of " + name_of(context.session->job(), zone->id) : "Lines";
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone) return draw_first(context);
        draw_zones(context, job, zone->id);
        look(*context.session, *zone);
        if (data_.points.empty()) {
            empty_state(context, Shape::lines, "Nothing on this line yet",
                        "Record a loudspeaker in its room and say that it is fed from this zone.");
        } else {
            const LineTouch touch = line_drawing(context, "line", data_, view_, context.px(context.wide ? 440 : 340));
            if (touch.tapped >= 0) select(touch.tapped);
            if (touch.source_tapped) select(-1);
            draw_point(context);
            if (const int tapped = chart(context, "lines.levels", levels_); tapped >= 0)
                select(charted_[static_cast<std::size_t>(tapped)]);
        }
        draw_untraced(context);
        if (button(context, "lines.zone_details", "Limit, output, voltage, level control", {.shape = Shape::amplifier}))
            context.requests.open(record_screen(shared_, Kind::zone, zone->id));
    }

private:
    void draw_first(Context& context) {
        empty_state(context, Shape::lines, "No zones yet",
                    "A zone is a separately fed line. Make the first one; its limit can follow later.");
        if (button(context, "lines.add", "Add the first zone", {.kind = ButtonKind::primary, .shape = Shape::plus}))
            shared_.ask(context, {adding(Kind::zone, {{"name", "Zone 1"}})}, "Zone 1 added",
                        [this](const std::vector<Id>& ids) { shared_.zone = ids.front(); });
    }

    void draw_zones(Context& context, const Job& job, const Id& current) {
        if (job.all<Zone>().size() < 2) return;
        std::vector<Choice> choices;
        int chosen = -1;
        for (const Zone& zone : job.all<Zone>()) {
            if (zone.id == current) chosen = static_cast<int>(choices.size());
            choices.push_back({name_of(job, zone.id)});
        }
        if (const int tapped = choice_row(context, "lines.zone", choices, chosen); tapped >= 0) {
            shared_.zone = job.all<Zone>()[static_cast<std::size_t>(tapped)].id;
            selected_ = Id();
        }
    }

    // The drawing and the chart of the zone, made anew when the job or the zone is another.
    void look(const Session& session, const Zone& zone) {
        const bool same = session_ == &session && batches_ == session.batch_count() && zone_ == zone.id;
        if (!same) {
            if (zone_ != zone.id) view_.fit_next = true;
            session_ = &session;
            batches_ = session.batch_count();
            zone_ = zone.id;
            collect(session, *session.job().place<Zone>(zone.id));
        }
        data_.selected = -1;
        for (std::size_t i = 0; i < data_.points.size(); ++i)
            if (data_.points[i].id == selected_.text()) data_.selected = static_cast<int>(i);
        levels_.selected = -1;
        for (std::size_t i = 0; i < charted_.size(); ++i)
            if (charted_[i] == data_.selected) levels_.selected = static_cast<int>(i);
    }

    void collect(const Session& session, std::uint32_t zone) {
        const Job& job = session.job();
        const Derived& derived = session.derived();
        data_.source = name_of(job, zone_);
        if (derived.zones[zone].channel)
            data_.source = name_of(job, job.all<Channel>()[*derived.zones[zone].channel].id) + ", " + data_.source;
        data_.points.clear();
        data_.revision += 1;
        untraced_.clear();
        levels_ = {};
        levels_.title = "Level along the line, in the order of the records";
        levels_.y_unit = "dB";
        levels_.joined = false;
        charted_.clear();
        std::vector<int> places(job.all<Point>().size(), -1);
        for (std::size_t i = 0; i < places.size(); ++i)
            if (derived.points[i].zone == zone)
                places[i] = static_cast<int>(data_.points.size()), add(session, i);
            else if (!derived.points[i].traced)
                untraced_.push_back(job.all<Point>()[i].id);
        std::size_t next = 0;
        for (std::size_t i = 0; i < places.size(); ++i)
            if (places[i] >= 0) {
                const std::uint32_t feed = derived.points[i].feed;
                data_.points[next++].feed = feed == nowhere ? -1 : places[feed];
            }
        mark_findings(derived);
        if (levels_.points.empty()) return;
        levels_.x_first = levels_.points.front().label.substr(0, levels_.points.front().label.find(':'));
        levels_.x_last = levels_.points.back().label.substr(0, levels_.points.back().label.find(':'));
    }

    void add(const Session& session, std::size_t place) {
        const Job& job = session.job();
        const Point& point = job.all<Point>()[place];
        const PointOnLine& state = session.derived().points[place];
        LinePoint drawn;
        drawn.id = point.id.text();
        drawn.kind = drawn_kind(point);
        drawn.label = name_of(job, point.id);
        const std::optional<Watts> tap = point.tap_w ? point.tap_w : point.planned_tap_w;
        drawn.detail =
            is_speaker(point) ? (tap ? show(*tap) : "no tap") : kind_word(point.kind.value_or(PointKind::other));
        if (point.room) drawn.detail += ", " + name_of(job, point.room);
        drawn.level = state.level ? show(*state.level) : "";
        drawn.dashed = is_speaker(point) && !point.tap_w;
        const double carried = watts_of(state.volts, state.ohms).value();
        drawn.watts = carried > 0 && carried < 1e9 ? carried : 0;
        if (state.level) {
            levels_.points.push_back({static_cast<double>(levels_.points.size()), state.level->value(), Tone::plain,
                                      drawn.label + ": " + drawn.level});
            charted_.push_back(static_cast<int>(data_.points.size()));
        }
        data_.points.push_back(std::move(drawn));
    }

    // The most serious finding of each point gives it its sign; the list begins with the most serious.
    void mark_findings(const Derived& derived) {
        for (auto finding = derived.findings.rbegin(); finding != derived.findings.rend(); ++finding)
            for (LinePoint& point : data_.points)
                if (finding->severity != Severity::note && point.id == finding->at.text())
                    point.tone = tone_of(finding->severity);
    }

    void select(int index) {
        selected_ = index < 0 ? Id() : Id(data_.points[static_cast<std::size_t>(index)].id);
        shared_.point = selected_;
    }

    void draw_point(Context& context) {
        const Session& session = *context.session;
        const auto place = session.job().place<Point>(selected_);
        if (selected_ == Id() || !place) {
            quiet_paragraph(context, "Touch a point for its figures. Strokes are as thick as the watts they carry.");
            return;
        }
        const Point& point = session.job().all<Point>()[*place];
        const PointOnLine& state = session.derived().points[*place];
        Card card(context);
        section_title(context, name_of(session.job(), point.id));
        if (is_speaker(point)) label_value(context, "lines.point.tap", "Tap", show(point.tap_w));
        if (state.level) label_value(context, "lines.point.level", "Level against its tap", show(*state.level));
        if (state.cable) label_value(context, "lines.point.cable", "Of it lost in cable", show(*state.cable));
        label_value(context, "lines.point.volts", "Volts at full level", show(state.volts));
        label_value(context, "lines.point.ohms", "Impedance from here on", show(state.ohms));
        if (state.can_add) label_value(context, "lines.point.can_add", "May be added here", show(*state.can_add));
        label_value(context, "lines.point.feed", "Fed from",
                    point.fed_from ? name_of(session.job(), point.fed_from) : "not traced");
        draw_actions(context, point.id);
    }

    void draw_actions(Context& context, const Id& id) {
        if (button(context, "lines.refeed", "Pick another feed", {.shape = Shape::lines})) refeed(context, id);
        if (button(context, "lines.read", "Readings here", {.shape = Shape::readings}))
            context.requests.open(readings_at_screen(shared_, id));
        if (button(context, "lines.open", "Open this point", {.shape = Shape::chevron}))
            context.requests.open(point_screen(shared_, id));
    }

    void refeed(Context& context, const Id& id) {
        const Job& job = context.session->job();
        const Point* point = job.find<Point>(id);
        const std::string label = name_of(job, id);
        context.requests.open(
            pick_screen(shared_,
                        {.title = "What feeds " + label + "?",
                         .kinds = {Kind::zone, Kind::point},
                         .current = point && point->fed_from ? *point->fed_from : Id(),
                         .not_this = id},
                        [this, id, label](Context& picked, const Id& feed) {
                            const Value value = feed == Id() ? Value() : Value(feed.text());
                            const std::string from =
                                feed == Id() ? "not traced" : "fed from " + name_of(picked.session->job(), feed);
                            shared_.ask(picked, {setting(Kind::point, id, {{"fed_from", value}})}, label + ": " + from);
                        }));
    }

    void draw_untraced(Context& context) {
        if (untraced_.empty()) return;
        section_title(context, counted(untraced_.size(), "point") + " not traced to any zone");
        for (const Id& id : untraced_) {
            Row row;
            row.title = name_of(context.session->job(), id);
            row.detail = "Touch it to say what feeds it.";
            row.tone = Tone::warning;
            row.word = "not traced";
            if (list_row(context, "lines.untraced." + id.text(), row).tapped) refeed(context, id);
        }
    }

    Shared& shared_;
    LineDrawingData data_;
    LineView view_;
    ChartData levels_;
    std::vector<int> charted_;  // the point of the drawing for each one of the chart
    std::vector<Id> untraced_;
    Id zone_, selected_;
    const Session* session_ = nullptr;
    std::size_t batches_ = 0;
};

}  // namespace

std::unique_ptr<Screen> lines_screen(Shared& shared) {
    return std::make_unique<LinesScreen>(shared);
}

}  // namespace tapwright::ui
