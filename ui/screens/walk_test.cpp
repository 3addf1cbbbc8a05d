// Walk test: each loudspeaker in walking order, how it sounded and its polarity; each attenuator's override.
#include "ui/screens/parts.h"
#include "ui/screens/places.h"
#include "ui/screens/words.h"

namespace tapwright::ui {
namespace {

class WalkTestScreen : public Screen {
public:
    explicit WalkTestScreen(Shared& shared) : shared_(shared) {}
    std::string title(Context&) override { return "Walk test"; }
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Point>().empty())
            empty_state(context, Shape::loudspeaker, "Nothing to hear yet",
                        "Record the loudspeakers in their rooms first.");
        for (const Room* room : walking_order(job)) {
            const std::vector<const Point*> points = points_in(job, room->id);
            if (points.empty()) continue;
            section_title(context, name_of(job, room->id));
            for (const Point* point : points) draw_point(context, *point);
        }
        for (const Point& point : job.all<Point>())
            if (!point.room) draw_point(context, point);
    }

private:
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
};

}  // namespace

std::unique_ptr<Screen> walk_test_screen(Shared& shared) {
    return std::make_unique<WalkTestScreen>(shared);
}

}  // namespace tapwright::ui
