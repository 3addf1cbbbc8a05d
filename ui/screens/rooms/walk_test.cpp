// Walk test: each loudspeaker in walking order, how it sounded and its polarity; each attenuator's override.
#include <algorithm>
#include <set>

#include "ui/screens/common/cautions.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// One room at a time, so that the page is as long as the room and no longer; points without a room come last.
class WalkTestScreen : public TitledScreen {
public:
    explicit WalkTestScreen(Shared& shared) : TitledScreen(shared, Message("Walk test")) {}
    Message title(Context& context) override {
        if (rooms_.empty()) return TitledScreen::title(context);
        if (rooms_[at_] == Id()) return Message("Walk test: points without a room");
        return Message("Walk test: {room}", {{"room", entered(name_of(context.session->job(), rooms_[at_]))}});
    }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        take_rooms(job);
        if (rooms_.empty())
            return empty_state(context, Shape::loudspeaker, Message("Nothing to listen to yet"),
                               Message("Record the loudspeakers in their rooms first."));
        caution_box(context, shared_, "walk.caution", CautionMoment::walk_test, Id());
        for (const Point& point : job.all<Point>())
            if (point.room.value_or(Id()) == rooms_[at_]) draw_point(context, point);
        if (at_ > 0 && button(context, "walk.before",
                              Message("Back to {room}", {{"room", entered(name_of(job, rooms_[at_ - 1]))}}),
                              {.shape = Shape::arrow_left}))
            at_ -= 1;
    }
    bool has_foot(Context&) override { return !rooms_.empty(); }
    void draw_foot(Context& context) override {
        if (at_ + 1 == rooms_.size()) {
            if (button(context, "walk.done", Message("Walk test done"),
                       {.kind = ButtonKind::primary, .shape = Shape::check}))
                context.requests.back();
        } else if (button(context, "walk.next", Message("Next room"),
                          {.kind = ButtonKind::primary, .shape = Shape::arrow_right})) {
            context.requests.after_frame([this] { at_ += 1; });
        }
    }

private:
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
        const Message label = entered(name_of(context.session->job(), point.id));
        const std::string name = "walk." + point.id.text();
        if (is_speaker(point)) {
            paragraph(context, label, TextSize::strong);
            const Choice heard[] = {
                {Message("Sounds right")}, {Message("Silent")}, {Message("Buzzes")}, {Message("Too quiet")}};
            const int now = point.heard ? static_cast<int>(*point.heard) : -1;
            if (const int tapped = choice_row(context, name + ".heard", heard, now); tapped >= 0)
                set(context, point, static_cast<Heard>(tapped));
            const Choice polarity[] = {{Message("In phase")}, {Message("Reversed")}};
            const int as_tested = point.polarity ? static_cast<int>(*point.polarity) : -1;
            if (const int tapped = choice_row(context, name + ".polarity", polarity, as_tested); tapped >= 0)
                set(context, point, static_cast<Polarity>(tapped));
        } else if (point.kind == PointKind::attenuator) {
            if (button(context, name + ".override", override_label(point, label)))
                set_override(context, point, shared_.stamp().date());
        }
    }
    static Message override_label(const Point& point, const Message& label) {
        if (!point.override_tested)
            return Message("{attenuator}: override works, tested today", {{"attenuator", label}});
        return Message("{attenuator}: override works, tested today (last test {day})",
                       {{"attenuator", label}, {"day", Day{point.override_tested->text}}});
    }

    void set(Context& context, const Point& point, Heard heard) {
        shared_.ask(context, {setting(Kind::point, point.id, {{"heard", std::string(word(heard))}})},
                    Message("{point}: {heard}",
                            {{"point", entered(name_of(context.session->job(), point.id))}, {"heard", heard}}));
    }
    void set(Context& context, const Point& point, Polarity polarity) {
        shared_.ask(context, {setting(Kind::point, point.id, {{"polarity", std::string(word(polarity))}})},
                    Message("{point}: {polarity}",
                            {{"point", entered(name_of(context.session->job(), point.id))}, {"polarity", polarity}}));
    }
    void set_override(Context& context, const Point& point, const std::string& today) {
        shared_.ask(context, {setting(Kind::point, point.id, {{"override_tested", today}})},
                    Message("{attenuator}: override tested on {day}",
                            {{"attenuator", entered(name_of(context.session->job(), point.id))}, {"day", Day{today}}}));
    }

    std::vector<Id> rooms_;  // of the last frame; an empty id: points without a room
    std::size_t at_ = 0;
};

}  // namespace

std::unique_ptr<Screen> walk_test_screen(Shared& shared) {
    return std::make_unique<WalkTestScreen>(shared);
}

}  // namespace tapwright::ui
