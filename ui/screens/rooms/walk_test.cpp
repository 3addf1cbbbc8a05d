// Walk test: each loudspeaker in walking order, how it sounded and its polarity; each attenuator's override.
#include <algorithm>
#include <set>

#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// One room at a time, so that the page is as long as the room and no longer; points without a room come last.
class WalkTestScreen : public Screen {
public:
    explicit WalkTestScreen(Shared& shared) : shared_(shared) {}
    Message title(Context& context) override {
        const Job& job = context.session->job();
        return rooms_.empty() ? "Walk test" : "Walk test: " + name_of_room(job, rooms_[at_]);
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        take_rooms(job);
        if (rooms_.empty())
            return empty_state(context, Shape::loudspeaker, "Nothing to hear yet",
                               "Record the loudspeakers in their rooms first.");
        for (const Point& point : job.all<Point>())
            if (point.room.value_or(Id()) == rooms_[at_]) draw_point(context, point);
        if (at_ > 0 && button(context, "walk.before", "Before: " + name_of_room(job, rooms_[at_ - 1]),
                              {.shape = Shape::arrow_left}))
            at_ -= 1;
    }
    bool has_foot(Context&) override { return !rooms_.empty(); }
    void draw_foot(Context& context) override {
        if (at_ + 1 == rooms_.size()) {
            if (button(context, "walk.done", "All rooms walked", {.kind = ButtonKind::primary, .shape = Shape::check}))
                context.requests.back();
        } else if (button(context, "walk.next", "Next room",
                          {.kind = ButtonKind::primary, .shape = Shape::arrow_right})) {
            context.requests.after_frame([this] { at_ += 1; });
        }
    }

private:
    static std::string name_of_room(const Job& job, const Id& room) {
        return room == Id() ? "without a room" : name_of(job, room);
    }
    // The rooms with something in them to hear or to try.
    void take_rooms(const Job& job) {
        std::set<std::string> with_points;
        for (const Point& point : job.all<Point>())
            if (is_speaker(point) || point.kind == PointKind::attenuator)
                with_points.insert(point.room.value_or(Id()).text());
        rooms_.clear();
        for (const Room* room : walking_order(job))
            if (with_points.contains(room->id.text())) rooms_.push_back(room->id);
        if (with_points.contains("")) rooms_.emplace_back();
        at_ = rooms_.empty() ? 0 : std::min(at_, rooms_.size() - 1);
    }

    void draw_point(Context& context, const Point& point) {
        const std::string label = name_of(context.session->job(), point.id);
        const std::string name = "walk." + point.id.text();
        if (is_speaker(point)) {
            paragraph(context, label, TextSize::strong);
            const Choice heard[] = {{"OK"}, {"Silent"}, {"Buzz"}, {"Low"}};
            const int now = point.heard ? static_cast<int>(*point.heard) : -1;
            if (const int tapped = choice_row(context, name + ".heard", heard, now); tapped >= 0)
                set(context, point, "heard", std::string(word(static_cast<Heard>(tapped))), label);
            const Choice polarity[] = {{"Polarity OK"}, {"Reversed"}};
            const int as_tested = point.polarity ? static_cast<int>(*point.polarity) : -1;
            if (const int tapped = choice_row(context, name + ".polarity", polarity, as_tested); tapped >= 0)
                set(context, point, "polarity", std::string(word(static_cast<Polarity>(tapped))), label);
        } else if (point.kind == PointKind::attenuator) {
            const std::string when = point.override_tested ? ", seen " + point.override_tested->text : "";
            if (button(context, name + ".override", label + ": override seen to work today" + when))
                set(context, point, "override_tested", shared_.stamp().date(), label);
        }
    }
    void set(Context& context, const Point& point, const char* field, const std::string& value,
             const std::string& label) {
        shared_.ask(context, {setting(Kind::point, point.id, {{field, value}})}, label + ": " + value);
    }

    Shared& shared_;
    std::vector<Id> rooms_;  // of the last frame; an empty id: points without a room
    std::size_t at_ = 0;
};

}  // namespace

std::unique_ptr<Screen> walk_test_screen(Shared& shared) {
    return std::make_unique<WalkTestScreen>(shared);
}

}  // namespace tapwright::ui
