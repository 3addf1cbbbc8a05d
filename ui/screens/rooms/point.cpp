// One point: its tap with the consequence of each, how it was found, its readings, where it is fed from, the walk test,
// and the way to the points before and after it.
#include <map>
#include <string_view>
#include <vector>

#include "core/calc/emergency.h"
#include "core/findings/findings.h"
#include "core/words/findings_text.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/point_readings.h"
#include "ui/screens/common/positions.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/taps.h"
#include "ui/screens/common/words.h"
#include "ui/screens/snags/note_snag.h"

namespace tapwright::ui {
namespace {

class PointScreen : public ScreenOfRecord {
public:
    PointScreen(Shared& shared, Id point)
        : ScreenOfRecord(shared, std::move(point), Message("Point")),
          taps_(shared),
          readings_(shared, id_),
          search_(shared),
          note_(shared) {}
    bool shows_load(Context&) override { return true; }

    // The points in the order somebody walks past them.
    void draw_foot(Context& context) override {
        const Neighbours& found = neighbours_.of(*context.session, [&] { return neighbours(context.session->job()); });
        const float width = share_of_foot(context, 2);
        const auto key = [&](const char* mark, const Message& label, Shape shape, const Id& to) {
            if (button(context, mark, label, {.enabled = to != Id(), .width = width, .shape = shape, .most_lines = 2}))
                go_to(context, to);
        };
        key("point.before", Message("Previous"), Shape::arrow_left, found.before);
        beside(context);
        key("point.next", Message("Next"), Shape::arrow_right, found.after);
    }

private:
    struct Neighbours {
        Id before, after;
    };

    Message title_of_record(Context& context, const Job&) override { return name(context); }
    void draw_record(Context& context, const Job& job) override {
        const Point* point = job.find<Point>(id_);
        draw_findings(context, job);
        const bool may_open = may_be_opened(context, *point);
        if (may_open && is_speaker(*point)) draw_taps(context, *point);
        readings_.draw(context);
        draw_feed(context, job, *point);
        if (point->kind == PointKind::attenuator) draw_position(context, *point);
        if (is_speaker(*point)) draw_walk_test(context);
        section_title(context, Message("Other details"));
        field(context, "label");
        if (button(context, "point.snag", Message("Note a snag here"), {.shape = Shape::snags})) note_.begin(id_);
        photos_button(context, shared_, "point.photos", id_);
        if (button(context, "point.all", Message("All details"), {.shape = Shape::more}))
            context.requests.open(record_screen(shared_, Kind::point, id_));
        draw_questions(context);
        note_.draw(context);
        readings_.draw_entry(context);
    }
    bool has_record_foot(Context&, const Job&) override { return true; }

    Neighbours neighbours(const Job& job) const {
        // Room by room in walking order, those without one last; one walk through the points, however many rooms.
        std::map<std::string_view, std::size_t> ranks;
        for (const Room* room : walking_order(job)) ranks.emplace(room->id.text(), ranks.size());
        std::vector<std::vector<const Point*>> rooms(ranks.size() + 1);
        for (const Point& point : job.all<Point>()) {
            const auto found = point.room ? ranks.find(point.room->text()) : ranks.end();
            if (found != ranks.end()) rooms[found->second].push_back(&point);
            if (!point.room) rooms.back().push_back(&point);
        }
        std::vector<const Point*> all;
        for (const auto& room : rooms) all.insert(all.end(), room.begin(), room.end());
        Neighbours found;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (all[i]->id != id_) continue;
            if (i > 0) found.before = all[i - 1]->id;
            if (i + 1 < all.size()) found.after = all[i + 1]->id;
        }
        return found;
    }

    void go_to(Context& context, const Id& point) {
        shared_.point = point;
        context.requests.back();
        context.requests.open(point_screen(shared_, point));
    }

    Message name(Context& context) const { return entered(name_of(context.session->job(), id_)); }

    void field(Context& context, std::string_view name) {
        field_row(context, shared_, form_, "point", Kind::point, id_, *find_field(Kind::point, name));
    }

    void draw_findings(Context& context, const Job& job) const {
        int number = 0;
        for (const Finding& finding : context.session->derived().findings)
            if (finding.at == id_)
                statement_box(context, "point.finding." + std::to_string(number++), tone_of(finding.severity),
                              statement_of(job, context.session->derived(), finding));
    }

    // What was there before and nobody has traced, or hangs on a line nobody was asked about, may be the fire alarm's.
    bool may_be_opened(Context& context, const Point& point) {
        const Session& session = *context.session;
        const auto known = emergency_of(session.job(), session.derived(), id_);
        if (known == tapwright::Answer::no || (!known && point.origin != Origin::existing)) return true;
        return settle_emergency(context, shared_, "point.emergency", id_);
    }

    void draw_taps(Context& context, const Point& point) {
        caution_box(context, shared_, "point.caution", CautionMoment::opening, id_);
        section_title(context, as_found_ ? Message("Tap as found") : Message("Tap as left"));
        const Choice modes[] = {{Message("As left")}, {Message("As found")}};
        if (const int mode = choice_row(context, "point.mode", modes, as_found_ ? 1 : 0); mode >= 0)
            as_found_ = mode == 1;
        taps_.look(context, {id_}, point.type.value_or(Id()));
        const int tapped = taps_.draw(context, "point.tap", as_found_ ? found(context) : point.tap_w);
        if (point.planned_tap_w) label_value(context, "point.planned", Message("Planned"), *point.planned_tap_w);
        field(context, "type");
        field(context, "wired");
        if (tapped < 0) return;
        const Watts tap = taps_.watts(tapped);
        if (as_found_) return record_found(context, tap);
        if (taps_.warning(tapped).empty()) return set_tap(context, tap);
        warning_ = taps_.warning(tapped);
        asked_tap_ = tap;
        warn_open_ = true;
    }

    // The tap the newest reading here found.
    std::optional<Watts> found(Context& context) const {
        std::optional<Watts> watts;
        for (const Reading& reading : context.session->job().all<Reading>())
            if (reading.at == id_ && reading.quantity == Measured::tap_w && reading.value)
                watts = Watts(*reading.value);
        return watts;
    }

    void set_tap(Context& context, Watts tap) {
        shared_.tap = tap;
        shared_.ask(context, {setting(Kind::point, id_, {{"tap_w", tap.value()}})},
                    Message("Tap of {point} set to {tap}", {{"point", name(context)}, {"tap", tap}}));
    }
    void record_found(Context& context, Watts tap) {
        shared_.ask(context,
                    {adding(Kind::reading, {{"at", id_.text()}, {"quantity", "tap_w"}, {"value", tap.value()}})},
                    Message("{point} found on {tap}", {{"point", name(context)}, {"tap", tap}}));
    }

    void draw_feed(Context& context, const Job& job, const Point& point) {
        section_title(context, Message("Feed and cable"));
        field(context, "fed_from");
        const Point* feed = job.find<Point>(point.fed_from);
        if (feed && feed->kind == PointKind::attenuator) field(context, "feed_side");
        field(context, "length_m");
        field(context, "cable");
        const auto place = job.place<Point>(id_);
        const PointOnLine& state = context.session->derived().points[*place];
        if (state.zone == nowhere) return;
        label_value(context, "point.zone", Message("Zone"), entered(name_of(job, job.all<Zone>()[state.zone].id)));
        label_value(context, "point.can_add", Message("Headroom here"),
                    state.can_add ? Message(may_add(*state.can_add)) : Message("unknown"));
        label_value(context, "point.volts", Message("Voltage at full level"), state.volts);
        if (state.level) label_value(context, "point.level", Message("Level, relative to tap"), *state.level);
    }

    void draw_position(Context& context, const Point& point) {
        section_title(context, Message("Position as left"));
        if (!attenuator_steps(context, shared_, "point.knob", point)) field(context, "knob_db");
        field(context, "type");
    }

    void draw_walk_test(Context& context) {
        section_title(context, Message("Walk test"));
        field(context, "heard");
        search_.draw_at_silent(context, "point.find_silent", id_);
        field(context, "polarity");
    }

    void draw_questions(Context& context) {
        if (ask(context, "point.over", Message("Over a limit"), warning_, Message("Record it anyway"),
                Message("Choose another tap"), warn_open_, Tone::stop) == Answer::yes)
            set_tap(context, asked_tap_);
        space(context, 12);
        if (button(context, "point.remove", Message("Remove"), {.kind = ButtonKind::danger, .shape = Shape::cross}))
            remove_open_ = true;
        if (ask(context, "point.remove_ask", Message("Remove {point}?", {{"point", name(context)}}),
                Message("Points fed from it will be fed from the point before it. Undo restores it."),
                Message("Remove it"), Message("Cancel"), remove_open_) != Answer::yes)
            return;
        shared_.ask(context, removal(context.session->job(), Kind::point, id_),
                    Message("{point} removed", {{"point", name(context)}}));
        context.requests.back();
    }

    TapChoice taps_;
    PointReadings readings_;
    FindFaultKey search_;
    Cached<Neighbours> neighbours_;
    NoteSnag note_;
    FormState form_;
    bool as_found_ = false, warn_open_ = false, remove_open_ = false;
    Message warning_;
    Watts asked_tap_{0};
};

}  // namespace

std::unique_ptr<Screen> point_screen(Shared& shared, const Id& point) {
    return std::make_unique<PointScreen>(shared, point);
}

}  // namespace tapwright::ui
