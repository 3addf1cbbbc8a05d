// One room: what hangs in it, the next loudspeaker in three touches, all its taps at once, and the way to the next
// room.
#include <algorithm>
#include <cmath>

#include "core/words/place_name.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/feed.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/photos.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/taps.h"
#include "ui/screens/common/words.h"
#include "ui/screens/rooms/duplicate.h"
#include "ui/screens/rooms/new_points.h"
#include "ui/screens/rooms/room_plan.h"
#include "ui/screens/snags/note_snag.h"

namespace tapwright::ui {
namespace {

class RoomScreen : public ScreenOfRecord {
public:
    RoomScreen(Shared& shared, Id room)
        : ScreenOfRecord(shared, std::move(room), Message("Room")), new_(shared, id_), taps_(shared), note_(shared) {}
    void draw_foot(Context& context) override {
        const bool again = new_.last_speaker(context.session->job()) != nullptr;
        const float small = context.px(66), gap = context.px(measure::gap);
        const float same = again ? small + gap : 0;
        const Message next = next_words(context.session->job());
        const float next_width = width_of_next(context, next, small, width_left() - same - gap - context.px(150));
        const float width = context.foot_upright ? width_left() : std::floor(width_left() - same - gap - next_width);
        const float narrow = context.foot_upright ? width_left() : small;
        const float zone_room = context.foot_upright ? 0 : width - context.px(108);  // beside the sign and "Add to"
        if (button(context, "room.add", new_.adding_words(context, NewPoints::Adds::loudspeaker, zone_room),
                   {.kind = ButtonKind::primary, .width = width, .shape = Shape::plus, .tight = true}))
            new_.begin();
        beside(context);
        if (again && button(context, "room.same", Message("Same again"),
                            {.width = narrow, .tight = true, .most_lines = 2, .changes = true}))
            new_.begin_same();
        if (again) beside(context);
        draw_next(context, next, context.foot_upright ? width_left() : next_width);
    }

    bool shows_load(Context&) override { return true; }

private:
    // The points without a room are a page of their own, which nothing can remove.
    bool is_there(const Job& job) const override { return id_ == Id() || job.find<Room>(id_); }
    bool has_record_foot(Context&, const Job&) override { return id_ != Id(); }
    Message title_of_record(Context&, const Job& job) override {
        return id_ == Id() ? Message("Without a room") : entered(name_of(job, id_));
    }
    void draw_record(Context& context, const Job& job) override {
        points_ = id_ == Id() ? strays(job) : points_in(job, id_);
        if (points_.empty())
            quiet_paragraph(
                context,
                Message(
                    "Nothing recorded here yet. Add the first loudspeaker and choose its tap. The rest can follow."));
        for (const Point* point : points_) draw_point(context, job, *point);
        if (id_ == Id()) return;
        draw_trace(context, job);
        draw_more(context);
        draw_snags(context, job);
        photos_button(context, shared_, "room.photos", id_);
        if (button(context, "room.plan", Message("Plan: where each loudspeaker is"), {.shape = Shape::rooms}))
            context.requests.open(room_plan_screen(shared_, id_));
        if (button(context, "room.details", Message("Size, ceiling, access, notes"), {.shape = Shape::survey}))
            context.requests.open(record_screen(shared_, Kind::room, id_));
        if (button(context, "room.survey", Message("Plan loudspeakers for this room"), {.shape = Shape::loudspeaker}))
            context.requests.open(room_survey_screen(shared_, id_));
        if (button(context, "room.duplicate", duplicate_words(), {.shape = Shape::rooms})) duplicate(context, job);
        if (Sheet sheet(context, "room.all", Message("Set all taps"), all_open_); sheet) draw_all(context);
        new_.draw(context);
        note_.draw(context);
    }

    // The first of those nobody has traced; the next one once that is settled.
    void draw_trace(Context& context, const Job& job) {
        const auto untraced =
            std::find_if(points_.begin(), points_.end(), [](const Point* point) { return !point->fed_from; });
        if (untraced == points_.end() || job.all<Zone>().empty()) return;
        const Message words = Message("Say what feeds {point}", {{"point", entered(name_of(job, (*untraced)->id))}});
        if (button(context, "room.trace", words, {.shape = Shape::lines, .changes = true}))
            ask_what_feeds(context, shared_, (*untraced)->id);
    }

    static std::vector<const Point*> strays(const Job& job) {
        std::vector<const Point*> points;
        for (const Point& point : job.all<Point>())
            if (!point.room) points.push_back(&point);
        return points;
    }

    void draw_point(Context& context, const Job& job, const Point& point) {
        const auto row = [&] { return row_of(context, job, point); };
        if (list_row(context, "point." + point.id.text(), row).tapped) {
            shared_.point = point.id;
            context.requests.open(point_screen(shared_, point.id));
        }
    }

    Row row_of(const Context& context, const Job& job, const Point& point) const {
        Row row;
        row.title = entered(name_of(job, point.id));
        row.shape = shape_of(point.kind.value_or(PointKind::other));
        row.chevron = true;
        row.selected = context.wide && point.id == shared_.point;
        row.detail = detail_of(job, point);
        if (is_speaker(point)) {
            if (const std::optional<Watts> tap = point.tap_w ? point.tap_w : point.planned_tap_w) row.value = *tap;
            if (!point.tap_w) row.tone = Tone::warning;
            if (!point.tap_w) row.word = point.planned_tap_w ? Message("Planned only") : Message("No tap");
            if (point.polarity == Polarity::reversed) {
                row.tone = Tone::warning;
                row.word = tapwright::Choice{"Polarity", word(*point.polarity), true};
            }
            if (point.heard.value_or(Heard::ok) != Heard::ok) {
                row.tone = Tone::warning;
                row.word = tapwright::Choice{"Heard", word(*point.heard), true};
            }
        }
        for (const Finding& finding : context.session->derived().findings) {
            if (finding.severity != Severity::stop) break;
            if (finding.at == point.id) row.tone = Tone::stop, row.word = Message("Stop");
        }
        return row;
    }

    // "Ceiling 6, fed from VC-1".
    static Message detail_of(const Job& job, const Point& point) {
        const Message what =
            point.type ? entered(name_of(job, point.type)) : kind_word(point.kind.value_or(PointKind::other));
        if (!point.fed_from) return Message("{what}, not traced", {{"what", what}});
        return Message("{what}, fed from {feed}", {{"what", what}, {"feed", entered(name_of(job, point.fed_from))}});
    }

    Message duplicate_words() const {
        if (points_.empty()) return Message("Another room like this");
        return plural("Another room like this, with its {count} point",
                      "Another room like this, with its {count} points", static_cast<std::int64_t>(points_.size()));
    }
    // One batch, and the page of the copy.
    void duplicate(Context& context, const Job& job) {
        IdMaker ids(shared_.stamp().seed);
        ChangeList changes = duplicate_of(job, id_, ids);
        const std::string name = name_after(job, name_of(job, id_));
        shared_.ask(context, std::move(changes), Message("{room} added", {{"room", entered(name)}}),
                    [&shared = shared_, &context](const std::vector<Id>& made) {
                        shared.room = made.front();
                        context.requests.back();
                        context.requests.open(room_screen(shared, made.front()));
                    });
    }

    void draw_more(Context& context) {
        space(context, 8);
        if (speakers().size() > 1 && button(context, "room.retap", Message("Set all taps"),
                                            {.enabled = !context.read_only, .shape = Shape::loudspeaker}))
            all_open_ = true;
        if (button(context, "room.add_attenuator", new_.adding_words(context, NewPoints::Adds::attenuator),
                   {.enabled = !context.read_only, .shape = Shape::attenuator}))
            new_.add_attenuator(context);
        if (button(context, "room.add_splice", new_.adding_words(context, NewPoints::Adds::joint),
                   {.enabled = !context.read_only, .shape = Shape::splice}))
            new_.add_joint(context);
    }

    void draw_snags(Context& context, const Job& job) {
        section_title(context, Message("Snags here"));
        for (const Snag& snag : job.all<Snag>()) {
            if (!snag.about || snag.state.value_or(SnagState::open) != SnagState::open) continue;
            const Point* point = job.find<Point>(*snag.about);
            if (*snag.about != id_ && !(point && point->room == id_)) continue;
            Row row;
            row.title = snag.text ? entered(*snag.text) : Message("Snag without a description");
            row.detail = place_name(job, snag.about);
            row.tone = Tone::warning;
            row.word = in_context("snag", "Open");
            row.chevron = true;
            if (list_row(context, "room.snag." + snag.id.text(), row).tapped)
                context.requests.open(record_screen(shared_, Kind::snag, snag.id));
        }
        if (button(context, "room.snag", Message("Note a snag here"), {.shape = Shape::snags})) note_.begin(id_);
    }

    // The next one in walking order; empty behind the last.
    Id next_room(const Job& job) const {
        const std::vector<const Room*> rooms = walking_order(job);
        const auto here = std::find_if(rooms.begin(), rooms.end(), [&](const Room* room) { return room->id == id_; });
        return here == rooms.end() || here + 1 == rooms.end() ? Id() : (*(here + 1))->id;
    }
    Message next_words(const Job& job) const {
        const Id next = next_room(job);
        return next == Id() ? Message("All rooms") : Message("Next: {room}", {{"room", entered(name_of(job, next))}});
    }

    // As narrow as its words are whole in two lines, `least` where they are, and no wider than `most`.
    static float width_of_next(Context& context, const Message& words, float least, float most) {
        constexpr float sides = 8, step = 4;
        const std::string text = context.words.text(words);
        float width = least;
        while (width + context.px(step) <= most &&
               broken_into_lines(context, TextSize::strong, text, width - context.px(sides), 2).shortened)
            width += context.px(step);
        return width;
    }

    // To the next room; from the last one back to all.
    void draw_next(Context& context, const Message& words, float width) {
        if (!button(context, "room.next", words, {.width = width, .tight = true, .most_lines = 2})) return;
        const Id next = next_room(context.session->job());
        context.requests.back();
        if (next == Id()) return;
        shared_.room = next;
        context.requests.open(room_screen(shared_, next));
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
        caution_box(context, shared_, "room.all.caution", CautionMoment::opening, ids);
        paragraph(context, sentences({which(context.session->job(), type, ids.size()),
                                      Message("Below each tap: the headroom it would leave.")}));
        taps_.look(context, ids, type);
        const int tapped = taps_.draw(context, "room.all.tap", {});
        if (tapped < 0) return;
        all_open_ = false;
        const Watts tap = taps_.watts(tapped);
        new_.confirm(context, taps_.warning(tapped), [this, ids, tap](Context& now) {
            ChangeList changes;
            for (const Id& id : ids) changes.push_back(setting(Kind::point, id, {{"tap_w", tap.value()}}));
            shared_.ask(now, changes,
                        plural("{count} loudspeaker set to {tap}", "{count} loudspeakers set to {tap}",
                               static_cast<std::int64_t>(ids.size()), {{"tap", tap}}));
        });
    }

    static Message which(const Job& job, const Id& type, std::size_t speakers) {
        if (type == Id())
            return plural("{count} loudspeaker without a recorded type.",
                          "{count} loudspeakers without a recorded type.", static_cast<std::int64_t>(speakers));
        return plural("{count} loudspeaker of type {type}.", "{count} loudspeakers of type {type}.",
                      static_cast<std::int64_t>(speakers), {{"type", entered(name_of(job, type))}});
    }

    // What was fitted as drawn is recorded in one touch.
    void draw_as_planned(Context& context) {
        ChangeList changes;
        for (const Point* point : speakers())
            if (point->planned_tap_w && !point->tap_w)
                changes.push_back(setting(Kind::point, point->id, {{"tap_w", point->planned_tap_w->value()}}));
        if (changes.empty()) return;
        const std::int64_t planned = static_cast<std::int64_t>(changes.size());
        if (!button(context, "room.all.planned",
                    plural("Record {count} loudspeaker as planned", "Record {count} loudspeakers as planned", planned),
                    {.kind = ButtonKind::primary, .shape = Shape::check}))
            return;
        all_open_ = false;
        shared_.ask(
            context, std::move(changes),
            plural("{count} loudspeaker recorded as planned", "{count} loudspeakers recorded as planned", planned));
    }

    std::vector<const Point*> speakers() const {
        std::vector<const Point*> all;
        for (const Point* point : points_)
            if (is_speaker(*point)) all.push_back(point);
        return all;
    }

    NewPoints new_;
    TapChoice taps_;
    std::vector<const Point*> points_;  // of the frame
    NoteSnag note_;
    bool all_open_ = false;
};

}  // namespace

std::unique_ptr<Screen> room_screen(Shared& shared, const Id& room) {
    return std::make_unique<RoomScreen>(shared, room);
}

}  // namespace tapwright::ui
