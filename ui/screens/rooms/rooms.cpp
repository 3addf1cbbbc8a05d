// Rooms in walking order, each with what is left to do in it.
#include <map>

#include "core/job/to_do.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/rooms/add_room.h"

namespace tapwright::ui {
namespace {

struct RoomCount {
    std::int64_t speakers = 0, others = 0, amplifiers = 0, without_tap = 0, not_traced = 0, snags = 0;
    std::int64_t not_fitted = 0, not_tested = 0, not_right = 0;  // in the walk test
};

class RoomsScreen : public TitledScreen {
public:
    explicit RoomsScreen(Shared& shared) : TitledScreen(shared, Message("Rooms")), add_room_(shared) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        count(*context.session);
        if (job.all<Room>().empty())
            empty_state(context, Shape::rooms, Message("No rooms yet"),
                        Message("Add the room you are in. Size, zone and types can follow later."));
        if (job.all<Room>().empty() && job.all<Amplifier>().empty() &&
            button(context, "rooms.set_up", Message("Set up the amplifier"), {.shape = Shape::amplifier}))
            context.requests.open(set_up_screen(shared_));
        for (const Room* room : walking_order(job)) draw_room(context, job, *room);
        if (without_room_.speakers + without_room_.others > 0) draw_strays(context);
        add_room_.draw(context, [this](Context& now, const Id& id) { now.requests.open(room_screen(shared_, id)); });
    }
    bool has_foot(Context&) override { return true; }
    bool shows_load(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (button(context, "rooms.new", Message("Add a room"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            add_room_.begin();
    }

private:
    void draw_room(Context& context, const Job& job, const Room& room) {
        const auto row = [&] { return row_of(context, job, room); };
        if (list_row(context, "room." + room.id.text(), row).tapped) {
            shared_.room = room.id;
            context.requests.open(room_screen(shared_, room.id));
        }
    }

    Row row_of(const Context& context, const Job& job, const Room& room) {
        const RoomCount& found = counts_[room.id.text()];
        Row row;
        row.title = entered(name_of(job, room.id));
        row.shape = Shape::rooms;
        row.chevron = true;
        row.selected = room.id == shared_.room && (context.wide || context.paired);
        const std::vector<Message> to_do = what_to_do(found);
        row.detail = sentences(
            {what_is_there(found), to_do.empty() ? Message() : Message("To do: {list}.", {{"list", series(to_do)}})});
        mark_state(found, to_do.size(), row);
        return row;
    }

    // Recorded is not yet tested, and neither is done while something is to do.
    static void mark_state(const RoomCount& found, std::size_t to_do, Row& row) {
        row.tone = found.without_tap + found.not_right > 0 ? Tone::warning : Tone::note;
        row.word = Message("To do");
        if (found.not_tested > 0 && to_do == 1) row.word = Message("Recorded");
        if (to_do > 0) return;
        const bool is_empty = found.speakers + found.others + found.amplifiers == 0;
        row.tone = is_empty ? Tone::note : Tone::good;
        row.word = is_empty ? Message("Empty") : found.speakers == 0 ? Message("Recorded") : Message("Tested");
    }

    // "1 amplifier, 6 loudspeakers and 2 other points."
    static Message what_is_there(const RoomCount& found) {
        std::vector<Message> parts;
        if (found.amplifiers > 0) parts.push_back(plural("{count} amplifier", "{count} amplifiers", found.amplifiers));
        if (found.speakers > 0) parts.push_back(plural("{count} loudspeaker", "{count} loudspeakers", found.speakers));
        if (found.others > 0) parts.push_back(plural("{count} other point", "{count} other points", found.others));
        if (parts.empty()) return Message("Nothing recorded here yet.");
        return Message("{parts}.", {{"parts", series(parts)}});
    }

    static std::vector<Message> what_to_do(const RoomCount& found) {
        std::vector<Message> parts;
        if (found.without_tap > 0)
            parts.push_back(plural("{count} without a tap", "{count} without a tap", found.without_tap));
        if (found.not_fitted > 0) parts.push_back(plural("{count} not fitted", "{count} not fitted", found.not_fitted));
        if (found.not_traced > 0) parts.push_back(plural("{count} not traced", "{count} not traced", found.not_traced));
        if (found.not_tested > 0) parts.push_back(plural("{count} not tested", "{count} not tested", found.not_tested));
        if (found.not_right > 0)
            parts.push_back(plural("{count} not sounding right", "{count} not sounding right", found.not_right));
        if (found.snags > 0) parts.push_back(plural("{count} snag", "{count} snags", found.snags));
        return parts;
    }

    void draw_strays(Context& context) {
        Row row;
        row.title = Message("Without a room");
        row.detail = what_is_there(without_room_);
        row.chevron = true;
        if (list_row(context, "rooms.strays", row).tapped) context.requests.open(room_screen(shared_, Id()));
    }

    void count(const Session& session) {
        if (seen_.still(session)) return;
        counts_.clear();
        without_room_ = {};
        const Job& job = session.job();
        for (std::size_t i = 0; i < job.all<Point>().size(); ++i) {
            const Point& point = job.all<Point>()[i];
            RoomCount& found = point.room ? counts_[point.room->text()] : without_room_;
            (is_speaker(point) ? found.speakers : found.others) += 1;
            const bool emergency = session.derived().points[i].emergency;
            found.not_fitted += is_to_be_fitted(point, emergency);
            found.without_tap += has_tap_to_be_seen(point, emergency);
            if (!session.derived().points[i].traced) found.not_traced += 1;
            found.not_tested += is_to_be_heard(point, emergency);
            if (point.heard.value_or(Heard::ok) != Heard::ok) found.not_right += 1;
        }
        for (const Amplifier& amplifier : job.all<Amplifier>())
            if (amplifier.room) counts_[amplifier.room->text()].amplifiers += 1;
        for (const Snag& snag : job.all<Snag>()) {
            if (snag.state.value_or(SnagState::open) != SnagState::open || !snag.about) continue;
            const Point* point = job.find<Point>(*snag.about);
            const Id& room = point && point->room ? *point->room : *snag.about;
            if (job.find<Room>(room)) counts_[room.text()].snags += 1;
        }
    }

    AddRoom add_room_;
    Seen<> seen_;
    std::map<std::string, RoomCount> counts_;
    RoomCount without_room_;
};

}  // namespace

std::unique_ptr<Screen> rooms_screen(Shared& shared) {
    return std::make_unique<RoomsScreen>(shared);
}

}  // namespace tapwright::ui
