#include "ui/screens/rooms/room_plan.h"

#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

#include "core/units/unit.h"
#include "ui/drawings/room_plan.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr std::size_t most_keys = 24;
constexpr float least_height = 200;

bool is_placed(const Point& point) {
    return point.x_m && point.y_m;
}

// Nobody measures closer than that with a finger.
double to_five_centimetres(float metres) {
    constexpr double steps_a_metre = 20;
    return std::round(static_cast<double>(metres) * steps_a_metre) / steps_a_metre;
}

class RoomPlan : public ScreenOfRecord {
public:
    RoomPlan(Shared& shared, Id room) : ScreenOfRecord(shared, std::move(room), Message("Plan")) {}

private:
    bool is_there(const Job& job) const override { return job.find<Room>(id_); }
    Message title_of_record(Context&, const Job& job) override {
        return Message("Plan of {room}", {{"room", entered(name_of(job, id_))}});
    }

    void draw_record(Context& context, const Job& job) override {
        const Room& room = *job.find<Room>(id_);
        if (!room.length_m || !room.width_m || !(*room.length_m > Metres(0)) || !(*room.width_m > Metres(0))) {
            empty_state(context, Shape::rooms, Message("Size not recorded"),
                        Message("Enter the room's length and width. Then touch where each loudspeaker is."));
            if (button(context, "plan.size", Message("Enter the size"),
                       {.kind = ButtonKind::primary, .shape = Shape::survey}))
                context.requests.open(record_screen(shared_, Kind::room, id_));
            return;
        }
        collect(job);
        const float top = ImGui::GetCursorPosY();
        draw_unplaced(context, job);
        draw_what_to_do(context, job);
        const ImGuiWindow* window = ImGui::GetCurrentWindow();
        const float in_sight = window->InnerRect.GetHeight() - 2 * window->WindowPadding.y;
        const float used = ImGui::GetCursorPosY() - top + context.px(measure::touch + measure::gap);
        draw_plan(context, job, room, std::max(context.px(least_height), in_sight - used));
        draw_in_hand(context, job);
    }

    // What is in hand stays there until it is placed, moved or another one is touched.
    void collect(const Job& job) {
        unplaced_.clear();
        placed_.clear();
        for (const Point* point : points_in(job, id_)) {
            if (is_placed(*point))
                placed_.push_back(point);
            else if (is_speaker(*point))
                unplaced_.push_back(point);
        }
        const Point* held = job.find<Point>(hand_);
        if (held && held->room == id_ && (is_placed(*held) || is_speaker(*held))) return;
        hand_ = unplaced_.empty() ? Id() : unplaced_.front()->id;
    }

    void draw_unplaced(Context& context, const Job& job) {
        if (unplaced_.empty()) return;
        std::vector<Choice> keys;
        int chosen = -1;
        const std::size_t shown = std::min(unplaced_.size(), most_keys);
        for (std::size_t i = 0; i < shown; ++i) {
            if (unplaced_[i]->id == hand_) chosen = static_cast<int>(i);
            keys.push_back({entered(name_of(job, unplaced_[i]->id))});
        }
        const int tapped = choice_row(context, "plan.unplaced", keys, chosen);
        if (tapped >= 0) hand_ = unplaced_[static_cast<std::size_t>(tapped)]->id;
    }

    void draw_what_to_do(Context& context, const Job& job) {
        const Point* held = job.find<Point>(hand_);
        if (!held && placed_.empty())
            return quiet_paragraph(context, Message("No loudspeaker is recorded in this room yet."));
        const Message name = held ? Message(entered(name_of(job, hand_))) : Message();
        quiet_paragraph(context, !held              ? Message("All are placed. Drag one to move it.")
                                 : is_placed(*held) ? Message("Touch where {point} is now.", {{"point", name}})
                                                    : Message("Touch where {point} is.", {{"point", name}}));
    }

    void draw_plan(Context& context, const Job& job, const Room& room, float height) {
        RoomPlanData data;
        data.length = static_cast<float>(room.length_m->value());
        data.width = static_cast<float>(room.width_m->value());
        data.grid = grid_of(data.length, data.width);
        for (const Point* point : placed_) {
            if (point->id == hand_) data.selected = static_cast<int>(data.spots.size());
            data.spots.push_back({point->id.text(), entered(name_of(job, point->id)),
                                  shape_of(point->kind.value_or(PointKind::other)),
                                  static_cast<float>(point->x_m->value()), static_cast<float>(point->y_m->value())});
        }
        const Message size = Message(
            "{length} × {width}, a line each {grid}",
            {{"length", *room.length_m}, {"width", *room.width_m}, {"grid", Metres(static_cast<double>(data.grid))}});
        data.words = size;
        const float line = line_height(context, TextSize::body) + context.px(measure::gap);
        const PlanTouch touch = room_plan_drawing(context, "plan", data, height - line);
        const std::vector<Named> figures = {
            {"length", *room.length_m}, {"width", *room.width_m}, {"grid", Metres(static_cast<double>(data.grid))}};
        quiet_paragraph(context, touch.turned
                                     ? Message(Pattern("{length} down, {width} across, a line each {grid}"), figures)
                                     : size);
        answer(context, job, data, touch);
    }

    void answer(Context& context, const Job& job, const RoomPlanData& data, const PlanTouch& touch) {
        if (touch.dropped) {
            move(context, job, *placed_[static_cast<std::size_t>(touch.dropped->spot)], touch.dropped->at);
        } else if (touch.spot >= 0) {
            const Id touched = placed_[static_cast<std::size_t>(touch.spot)]->id;
            hand_ = touched == hand_ ? Id() : touched;
            shared_.point = touched;
            context.requests.another_frame();
        } else if (touch.floor) {
            put(context, job, (*touch.floor)[0], (*touch.floor)[1]);
        } else if (data.selected >= 0 && (touch.step[0] != 0 || touch.step[1] != 0)) {
            const PlanSpot& spot = data.spots[static_cast<std::size_t>(data.selected)];
            const Id moved = hand_;
            put(context, job, std::clamp(spot.x + touch.step[0], 0.0F, data.length),
                std::clamp(spot.y + touch.step[1], 0.0F, data.width));
            hand_ = moved;
        } else if (touch.entered && data.selected < 0) {
            // With the keyboard it begins in the middle and goes on by arrows.
            const Id begun = hand_;
            put(context, job, data.length / 2, data.width / 2);
            hand_ = begun;
        }
    }

    void move(Context& context, const Job& job, const Point& point, const std::array<float, 2>& to) {
        const Message name = entered(name_of(job, point.id));
        shared_.ask(context,
                    {setting(Kind::point, point.id,
                             {{"x_m", to_five_centimetres(to[0])}, {"y_m", to_five_centimetres(to[1])}})},
                    is_placed(point) ? Message("{point} moved", {{"point", name}})
                                     : Message("{point} placed", {{"point", name}}));
        shared_.point = point.id;
    }

    // One change; the next one that has no place yet is in hand then.
    void put(Context& context, const Job& job, float x, float y) {
        const Point* held = job.find<Point>(hand_);
        if (!held) return;
        move(context, job, *held, {x, y});
        const auto next =
            std::find_if(unplaced_.begin(), unplaced_.end(), [&](const Point* point) { return point->id != hand_; });
        hand_ = next == unplaced_.end() ? Id() : (*next)->id;
    }

    void draw_in_hand(Context& context, const Job& job) {
        const Point* held = job.find<Point>(hand_);
        if (!held || !is_placed(*held)) return;
        const Message name = entered(name_of(job, hand_));
        const float width = share_of_width(context, 2);
        const Message open = Message("Open {point}", {{"point", name}}), off = Message("Take off the plan");
        const float height =
            std::max(button_height(context, open, {.width = width}), button_height(context, off, {.width = width}));
        if (button(context, "plan.open", open, {.width = width, .height = height}))
            context.requests.open(point_screen(shared_, hand_));
        beside(context);
        if (!button(context, "plan.off", off, {.width = width, .height = height})) return;
        shared_.ask(context, {setting(Kind::point, hand_, {{"x_m", Value()}, {"y_m", Value()}})},
                    Message("{point} taken off the plan", {{"point", name}}));
    }

    Id hand_;
    std::vector<const Point*> placed_, unplaced_;  // of the frame
};

}  // namespace

std::unique_ptr<Screen> room_plan_screen(Shared& shared, const Id& room) {
    return std::make_unique<RoomPlan>(shared, room);
}

}  // namespace tapwright::ui
