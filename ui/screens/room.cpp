// One room: what hangs in it, the next loudspeaker in three touches, and the way to the next room.
#include "core/base/text.h"
#include "core/units/text.h"
#include "ui/screens/forms.h"
#include "ui/screens/parts.h"
#include "ui/screens/taps.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

constexpr int most_same = 12;

class RoomScreen : public Screen {
public:
    RoomScreen(Shared& shared, Id room) : shared_(shared), room_(std::move(room)), new_tap_(shared), all_tap_(shared) {}
    std::string title(Context& context) override {
        if (room_ == Id()) return "Without a room";
        return context.session->job().find<Room>(room_) ? name_of(context.session->job(), room_) : "Removed room";
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (room_ != Id() && !job.find<Room>(room_))
            return empty_state(context, Shape::erase, "Removed", "This room is no more. Undo brings it back.");
        points_ = room_ == Id() ? strays(job) : points_in(job, room_);
        if (points_.empty())
            quiet_paragraph(context,
                            "Nothing recorded here yet. Touch Add loudspeaker, then its tap; all else can follow.");
        for (const Point* point : points_) draw_point(context, job, *point);
        if (room_ == Id()) return;
        draw_adding(context);
        draw_snags(context, job);
        if (button(context, "room.details", "Size, ceiling, access, notes", {.shape = Shape::survey}))
            context.requests.open(record_screen(shared_, Kind::room, room_));
        draw_next(context, job);
        draw_sheets(context, job);
    }

private:
    static std::vector<const Point*> strays(const Job& job) {
        std::vector<const Point*> points;
        for (const Point& point : job.all<Point>())
            if (!point.room) points.push_back(&point);
        return points;
    }

    void draw_point(Context& context, const Job& job, const Point& point) {
        Row row;
        row.title = name_of(job, point.id);
        row.shape = shape_of(point.kind.value_or(PointKind::other));
        row.chevron = true;
        row.selected = context.wide && point.id == shared_.point;
        row.detail =
            point.type ? name_of(job, point.type) : std::string(kind_word(point.kind.value_or(PointKind::other)));
        row.detail += point.fed_from ? ", from " + name_of(job, point.fed_from) : ", not traced";
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

    void draw_adding(Context& context) {
        space(context, 8);
        if (button(context, "room.add", "Add loudspeaker", {.kind = ButtonKind::primary, .shape = Shape::plus}))
            adding_ = true;
        if (last_speaker() && button(context, "room.same", "Same again", {.shape = Shape::loudspeaker}))
            same_open_ = true;
        if (speakers().size() > 1 && button(context, "room.retap", "Set all taps", {.shape = Shape::loudspeaker}))
            all_open_ = true;
        if (button(context, "room.add_attenuator", "Add attenuator", {.shape = Shape::attenuator}))
            add_other(context, PointKind::attenuator, "VC-", "Attenuator");
        if (button(context, "room.add_splice", "Add splice", {.shape = Shape::splice}))
            add_other(context, PointKind::splice, "J-", "Splice");
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
        const FieldEvent event =
            text_field(context, "room.snag", "Something to put right", "", snag_, {.hint = "such as Grille missing"});
        if (event != FieldEvent::commit || snag_.text.empty()) return;
        shared_.ask(context, {adding(Kind::snag, {{"about", room_.text()}, {"text", snag_.text}})}, "Snag noted",
                    [this](const std::vector<Id>&) { snag_ = {}; });
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

    void draw_sheets(Context& context, const Job& job) {
        if (Sheet sheet(context, "room.new", "Tap of " + next_label(job), adding_); sheet) draw_new(context, job);
        if (Sheet sheet(context, "room.many", "Same again", same_open_); sheet) draw_same(context);
        if (Sheet sheet(context, "room.all", "Set all taps", all_open_); sheet) draw_all(context);
        if (ask(context, "room.over", "Over a limit", warning_, "Record it as it is", "Choose another", warn_open_,
                Tone::stop) == Answer::yes)
            pending_(context);
    }

    void draw_new(Context& context, const Job& job) {
        Row type;
        type.title = "Type";
        type.value = job.find<SpeakerType>(shared_.speaker_type) ? name_of(job, shared_.speaker_type) : "Not recorded";
        type.chevron = true;
        if (job.count(Kind::speaker_type) > 0 && list_row(context, "room.new.type", type).tapped) pick_type(context);
        Row feed;
        feed.title = "Fed from";
        feed.value = feed_of_next(job) == Id() ? "Not traced" : name_of(job, feed_of_next(job));
        feed.chevron = true;
        if (list_row(context, "room.new.feed", feed).tapped) pick_feed(context);
        new_tap_.look(context, {}, type_of_next(job), new_fields(job));
        const int tapped = new_tap_.draw(context, "room.new.tap", {});
        if (tapped >= 0) {
            adding_ = false;
            const Watts tap = new_tap_.watts(tapped);
            confirm(context, new_tap_.warning(tapped), [this, tap](Context& now) { add_speaker(now, tap); });
        }
        if (button(context, "room.new.untapped", "Tap not known yet")) {
            adding_ = false;
            add_speaker(context, std::nullopt);
        }
    }

    void draw_same(Context& context) {
        const Point* last = last_speaker();
        if (!last) return;
        how_many_ += stepper(context, "room.many.count", "How many more", std::to_string(how_many_), how_many_ > 1,
                             how_many_ < most_same);
        paragraph(context, "Each of the type and tap of " + name_of(context.session->job(), last->id) +
                               ", each fed from the one before.");
        if (!button(context, "room.many.add", "Add " + counted(static_cast<std::size_t>(how_many_), "loudspeaker"),
                    {.kind = ButtonKind::primary, .shape = Shape::plus}))
            return;
        same_open_ = false;
        add_same(context, *last);
    }

    void draw_all(Context& context) {
        const std::vector<const Point*> all = speakers();
        if (all.empty()) return;
        std::vector<Id> ids;
        const Id type = all.front()->type.value_or(Id());
        for (const Point* point : all)
            if (point->type.value_or(Id()) == type) ids.push_back(point->id);
        paragraph(context, counted(ids.size(), "loudspeaker") + " of " +
                               (type == Id() ? std::string("unknown type") : name_of(context.session->job(), type)) +
                               ". Below each tap: what the zone would have left.");
        all_tap_.look(context, ids, type);
        const int tapped = all_tap_.draw(context, "room.all.tap", {});
        if (tapped < 0) return;
        all_open_ = false;
        const Watts tap = all_tap_.watts(tapped);
        confirm(context, all_tap_.warning(tapped), [this, ids, tap](Context& now) {
            ChangeList changes;
            for (const Id& id : ids) changes.push_back(setting(Kind::point, id, {{"tap_w", tap.value()}}));
            shared_.ask(now, changes, counted(ids.size(), "loudspeaker") + " set to " + show(tap));
        });
    }

    // ---- acts ----

    void confirm(Context& context, const std::string& warning, std::function<void(Context&)> act) {
        if (warning.empty()) return act(context);
        warning_ = warning;
        pending_ = std::move(act);
        context.requests.after_frame([this] { warn_open_ = true; });
        context.requests.another_frame();
    }

    std::vector<const Point*> speakers() const {
        std::vector<const Point*> all;
        for (const Point* point : points_)
            if (is_speaker(*point)) all.push_back(point);
        return all;
    }
    const Point* last_speaker() const {
        const std::vector<const Point*> all = speakers();
        return all.empty() ? nullptr : all.back();
    }

    Id feed_of_next(const Job& job) const {
        if (job.find<Point>(shared_.feed) || job.find<Zone>(shared_.feed)) return shared_.feed;
        const Zone* zone = shared_.zone_in_hand(job);
        return zone ? zone->id : Id();
    }
    Id type_of_next(const Job& job) const {
        if (job.find<SpeakerType>(shared_.speaker_type)) return shared_.speaker_type;
        return job.count(Kind::speaker_type) == 1 ? job.all<SpeakerType>().front().id : Id();
    }

    Map new_fields(const Job& job) const {
        Map fields = {{"kind", "speaker"}, {"label", next_label(job)}, {"room", room_.text()}};
        if (feed_of_next(job) != Id()) fields.emplace_back("fed_from", feed_of_next(job).text());
        if (type_of_next(job) != Id()) fields.emplace_back("type", type_of_next(job).text());
        if (job.find<CableType>(shared_.cable)) fields.emplace_back("cable", shared_.cable.text());
        return fields;
    }

    void add_speaker(Context& context, std::optional<Watts> tap) {
        const Job& job = context.session->job();
        Map fields = new_fields(job);
        const std::string label = next_label(job);
        if (tap) fields.emplace_back("tap_w", tap->value());
        shared_.tap = tap;
        shared_.ask(context, {adding(Kind::point, fields)},
                    "Loudspeaker " + label + " added" + (tap ? " on " + show(*tap) : std::string()),
                    [this](const std::vector<Id>& ids) { shared_.feed = shared_.point = ids.front(); });
    }

    void add_same(Context& context, const Point& last) {
        const Job& job = context.session->job();
        IdMaker ids(shared_.stamp().seed);
        ChangeList changes;
        Id feed = last.id;
        std::string label = next_label(job);
        for (int i = 0; i < how_many_; ++i) {
            tapwright::Change change =
                adding(Kind::point, {{"kind", "speaker"}, {"label", label}, {"room", room_.text()}});
            change.id = ids.make(Kind::point);
            if (last.fed_from) change.fields.emplace_back("fed_from", feed.text());
            if (last.type) change.fields.emplace_back("type", last.type->text());
            if (last.tap_w) change.fields.emplace_back("tap_w", last.tap_w->value());
            if (last.cable) change.fields.emplace_back("cable", last.cable->text());
            feed = change.id;
            label = label_after(job, label);
            changes.push_back(std::move(change));
        }
        shared_.ask(context, changes,
                    counted(changes.size(), "loudspeaker") + " like " + name_of(job, last.id) + " added",
                    [this](const std::vector<Id>& made) { shared_.feed = made.back(); });
    }

    void add_other(Context& context, PointKind kind, std::string_view prefix, const std::string& what) {
        const Job& job = context.session->job();
        const std::string label = next_label(job, prefix);
        Map fields = {{"kind", std::string(word(kind))}, {"label", label}, {"room", room_.text()}};
        if (feed_of_next(job) != Id()) fields.emplace_back("fed_from", feed_of_next(job).text());
        if (kind == PointKind::attenuator && job.find<AttenuatorType>(shared_.attenuator_type))
            fields.emplace_back("type", shared_.attenuator_type.text());
        shared_.ask(context, {adding(Kind::point, fields)}, what + " " + label + " added",
                    [this](const std::vector<Id>& ids) { shared_.feed = ids.front(); });
    }

    void pick_type(Context& context) {
        PickOptions options;
        options.title = "Loudspeaker type";
        options.kinds = {Kind::speaker_type};
        options.current = shared_.speaker_type;
        adding_ = false;
        context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
            shared_.speaker_type = picked;
            now.requests.after_frame([this] { adding_ = true; });
        }));
    }
    void pick_feed(Context& context) {
        PickOptions options;
        options.title = "Fed from";
        options.kinds = {Kind::zone, Kind::point};
        options.current = shared_.feed;
        adding_ = false;
        context.requests.open(pick_screen(shared_, options, [this](Context& now, const Id& picked) {
            shared_.feed = picked;
            now.requests.after_frame([this] { adding_ = true; });
        }));
    }

    Shared& shared_;
    Id room_;
    TapChoice new_tap_, all_tap_;
    std::vector<const Point*> points_;  // of the frame
    Draft snag_;
    bool adding_ = false, same_open_ = false, all_open_ = false, warn_open_ = false;
    int how_many_ = 1;
    std::string warning_;
    std::function<void(Context&)> pending_;
};

}  // namespace

std::unique_ptr<Screen> room_screen(Shared& shared, const Id& room) {
    return std::make_unique<RoomScreen>(shared, room);
}

}  // namespace tapwright::ui
