// One room: what hangs in it, the next loudspeaker in three touches, all its taps at once, and the way to the next
// room.
#include <cmath>

#include "core/base/text.h"
#include "core/units/show.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/taps.h"
#include "ui/screens/common/words.h"
#include "ui/screens/rooms/new_points.h"
#include "ui/screens/snags/note_snag.h"

namespace tapwright::ui {
namespace {

class RoomScreen : public Screen {
public:
    RoomScreen(Shared& shared, Id room)
        : shared_(shared), room_(std::move(room)), new_(shared, room_), taps_(shared), note_(shared) {}
    Message title(Context& context) override {
        if (room_ == Id()) return "Without a room";
        return context.session->job().find<Room>(room_) ? name_of(context.session->job(), room_) : "Removed room";
    }
    bool has_foot(Context& context) override { return context.session->job().find<Room>(room_) != nullptr; }
    void draw_foot(Context& context) override {
        const bool again = new_.last_speaker(context.session->job()) != nullptr;
        const float width = again ? std::floor(width_left() * 0.6F) : 0;
        if (button(context, "room.add", "Add loudspeaker",
                   {.kind = ButtonKind::primary, .width = width, .shape = Shape::plus}))
            new_.begin();
        if (!again) return;
        beside(context);
        if (button(context, "room.same", "Same again")) new_.begin_same();
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (room_ != Id() && !job.find<Room>(room_))
            return empty_state(context, Shape::erase, "Removed", "This room is no more. Undo brings it back.");
        points_ = room_ == Id() ? strays(job) : points_in(job, room_);
        if (!seen_) take_zone_in_hand(*context.session);
        if (points_.empty())
            quiet_paragraph(context,
                            "Nothing recorded here yet. Touch Add loudspeaker, then its tap; all else can follow.");
        for (const Point* point : points_) draw_point(context, job, *point);
        if (room_ == Id()) return;
        draw_more(context);
        draw_snags(context, job);
        photos_button(context, shared_, "room.photos", room_);
        if (button(context, "room.details", "Size, ceiling, access, notes", {.shape = Shape::survey}))
            context.requests.open(record_screen(shared_, Kind::room, room_));
        if (button(context, "room.survey", "Choose loudspeakers and taps for this room", {.shape = Shape::loudspeaker}))
            context.requests.open(room_survey_screen(shared_, room_));
        draw_next(context, job);
        if (Sheet sheet(context, "room.all", "Set all taps", all_open_); sheet) draw_all(context);
        new_.draw(context);
        note_.draw(context);
    }

private:
    static std::vector<const Point*> strays(const Job& job) {
        std::vector<const Point*> points;
        for (const Point& point : job.all<Point>())
            if (!point.room) points.push_back(&point);
        return points;
    }

    // Whoever opens a room works on the line that feeds it.
    void take_zone_in_hand(const Session& session) {
        seen_ = true;
        for (auto point = points_.rbegin(); point != points_.rend(); ++point) {
            const auto place = session.job().place<Point>((*point)->id);
            const std::uint32_t zone = session.derived().points[*place].zone;
            if (zone == nowhere) continue;
            shared_.zone = session.job().all<Zone>()[zone].id;
            return;
        }
    }

    void draw_point(Context& context, const Job& job, const Point& point) {
        Row row;
        row.title = name_of(job, point.id);
        row.shape = shape_of(point.kind.value_or(PointKind::other));
        row.chevron = true;
        row.selected = context.wide && point.id == shared_.point;
        const Message what =
            point.type ? entered(name_of(job, point.type)) : Message(kind_word(point.kind.value_or(PointKind::other)));
        row.detail = point.fed_from ? Message("{what}, from {feed}",
                                              {{"what", what}, {"feed", entered(name_of(job, point.fed_from))}})
                                    : Message("{what}, not traced", {{"what", what}});
        if (is_speaker(point)) {
            row.value = point.tap_w ? show(*point.tap_w) : point.planned_tap_w ? show(*point.planned_tap_w) : "";
            if (!point.tap_w) row.tone = Tone::warning, row.word = point.planned_tap_w ? "planned only" : "no tap";
        }
        for (const Finding& finding : context.session->derived().findings) {
            if (finding.severity != Severity::stop) break;
            if (finding.at == point.id) row.tone = Tone::stop, row.word = "Stop";
        }
        if (list_row(context, "point." + point.id.text(), row).tapped) {
            shared_.point = point.id;
            context.requests.open(point_screen(shared_, point.id));
        }
    }

    void draw_more(Context& context) {
        space(context, 8);
        if (speakers().size() > 1 && button(context, "room.retap", "Set all taps", {.shape = Shape::loudspeaker}))
            all_open_ = true;
        if (button(context, "room.add_attenuator", "Add attenuator", {.shape = Shape::attenuator}))
            new_.add_other(context, PointKind::attenuator, "VC-");
        if (button(context, "room.add_splice", "Add splice", {.shape = Shape::splice}))
            new_.add_other(context, PointKind::splice, "J-");
    }

    void draw_snags(Context& context, const Job& job) {
        section_title(context, "Snags here");
        for (const Snag& snag : job.all<Snag>()) {
            if (!snag.about || snag.state.value_or(SnagState::open) != SnagState::open) continue;
            const Point* point = job.find<Point>(*snag.about);
            if (*snag.about != room_ && !(point && point->room == room_)) continue;
            Row row;
            row.title = snag.text.value_or("");
            row.detail = name_of(job, snag.about);
            row.tone = Tone::warning;
            row.word = "Open";
            row.chevron = true;
            if (list_row(context, "room.snag." + snag.id.text(), row).tapped)
                context.requests.open(record_screen(shared_, Kind::snag, snag.id));
        }
        if (button(context, "room.snag", "Note a snag here", {.shape = Shape::snags})) note_.begin(room_);
    }

    void draw_next(Context& context, const Job& job) {
        const std::vector<const Room*> rooms = walking_order(job);
        for (std::size_t i = 0; i + 1 < rooms.size(); ++i) {
            if (rooms[i]->id != room_) continue;
            const Id next = rooms[i + 1]->id;
            if (!button(context, "room.next", "Next: " + name_of(job, next), {.shape = Shape::arrow_right})) return;
            context.requests.back();
            shared_.room = next;
            context.requests.open(room_screen(shared_, next));
            return;
        }
        if (button(context, "room.next", "Last room: back to all rooms", {.shape = Shape::rooms}))
            context.requests.back();
    }

    // ---- what is over the page ----

    void draw_all(Context& context) {
        const std::vector<const Point*> all = speakers();
        if (all.empty()) return;
        std::vector<Id> ids;
        const Id type = all.front()->type.value_or(Id());
        for (const Point* point : all)
            if (point->type.value_or(Id()) == type) ids.push_back(point->id);
        draw_as_planned(context);
        paragraph(context, counted(ids.size(), "loudspeaker") + " of " +
                               (type == Id() ? std::string("unknown type") : name_of(context.session->job(), type)) +
                               ". Below each tap: what the zone would have left.");
        taps_.look(context, ids, type);
        const int tapped = taps_.draw(context, "room.all.tap", {});
        if (tapped < 0) return;
        all_open_ = false;
        const Watts tap = taps_.watts(tapped);
        new_.confirm(context, taps_.warning(tapped), [this, ids, tap](Context& now) {
            ChangeList changes;
            for (const Id& id : ids) changes.push_back(setting(Kind::point, id, {{"tap_w", tap.value()}}));
            shared_.ask(now, changes, counted(ids.size(), "loudspeaker") + " set to " + show(tap));
        });
    }

    // What was fitted as drawn is recorded in one touch.
    void draw_as_planned(Context& context) {
        ChangeList changes;
        for (const Point* point : speakers())
            if (point->planned_tap_w && !point->tap_w)
                changes.push_back(setting(Kind::point, point->id, {{"tap_w", point->planned_tap_w->value()}}));
        if (changes.empty()) return;
        const std::string what = counted(changes.size(), "loudspeaker") + " as planned";
        if (!button(context, "room.all.planned", "Record " + what,
                    {.kind = ButtonKind::primary, .shape = Shape::check}))
            return;
        all_open_ = false;
        shared_.ask(context, std::move(changes), what);
    }

    std::vector<const Point*> speakers() const {
        std::vector<const Point*> all;
        for (const Point* point : points_)
            if (is_speaker(*point)) all.push_back(point);
        return all;
    }

    Shared& shared_;
    Id room_;
    NewPoints new_;
    TapChoice taps_;
    std::vector<const Point*> points_;  // of the frame
    NoteSnag note_;
    bool all_open_ = false, seen_ = false;
};

}  // namespace

std::unique_ptr<Screen> room_screen(Shared& shared, const Id& room) {
    return std::make_unique<RoomScreen>(shared, room);
}

}  // namespace tapwright::ui
