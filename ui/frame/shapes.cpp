#include "ui/frame/shapes.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "ui/frame/text.h"

namespace tapwright::ui {
namespace {

constexpr float pi = 3.14159265F;

// Coordinates run from -1 to 1 in the shape's square.
struct Pen {
    ImDrawList* list;
    ImVec2 centre;
    float half;
    ImU32 colour, cut;
    float thick;

    ImVec2 at(float x, float y) const { return {centre.x + x * half, centre.y + y * half}; }
    void path(std::initializer_list<ImVec2> points, bool closed = false) const {
        for (const ImVec2& point : points) list->PathLineTo(at(point.x, point.y));
        list->PathStroke(colour, closed ? ImDrawFlags_Closed : 0, thick);
    }
    void fill(std::initializer_list<ImVec2> points, ImU32 with) const {
        for (const ImVec2& point : points) list->PathLineTo(at(point.x, point.y));
        list->PathFillConvex(with);
    }
    void ring(float x, float y, float radius) const { list->AddCircle(at(x, y), radius * half, colour, 0, thick); }
    void dot(float x, float y, float radius, ImU32 with) const { list->AddCircleFilled(at(x, y), radius * half, with); }
    void arc(float x, float y, float radius, float from, float to) const {
        list->PathArcTo(at(x, y), radius * half, from, to);
        list->PathStroke(colour, 0, thick);
    }
    void box(float left, float top, float right, float bottom, bool filled) const {
        if (filled)
            list->AddRectFilled(at(left, top), at(right, bottom), colour, half * 0.12F);
        else
            list->AddRect(at(left, top), at(right, bottom), colour, half * 0.12F, 0, thick);
    }
    void cut_path(std::initializer_list<ImVec2> points) const {
        for (const ImVec2& point : points) list->PathLineTo(at(point.x, point.y));
        list->PathStroke(cut, 0, thick);
    }
};

void draw_tone(const Pen& pen, Shape shape) {
    if (shape == Shape::check) {
        pen.dot(0, 0, 0.95F, pen.colour);
        pen.cut_path({{-0.45F, 0.03F}, {-0.1F, 0.38F}, {0.48F, -0.32F}});
    } else if (shape == Shape::diamond) {
        pen.fill({{0, -1}, {1, 0}, {0, 1}, {-1, 0}}, pen.colour);
        pen.dot(0, -0.36F, 0.14F, pen.cut);
        pen.cut_path({{0, -0.06F}, {0, 0.5F}});
    } else if (shape == Shape::triangle) {
        pen.fill({{0, -0.95F}, {1, 0.8F}, {-1, 0.8F}}, pen.colour);
        pen.cut_path({{0, -0.42F}, {0, 0.2F}});
        pen.dot(0, 0.5F, 0.14F, pen.cut);
    } else {
        const float a = 0.41F;
        pen.fill({{-a, -1}, {a, -1}, {1, -a}, {1, a}, {a, 1}, {-a, 1}, {-1, a}, {-1, -a}}, pen.colour);
        pen.cut_path({{-0.4F, -0.4F}, {0.4F, 0.4F}});
        pen.cut_path({{0.4F, -0.4F}, {-0.4F, 0.4F}});
    }
}

void draw_arrow(const Pen& pen, float x, float y) {
    // (x, y) points the way; (-y, x) is across.
    const ImVec2 tip(x * 0.75F, y * 0.75F);
    pen.path({{-x * 0.75F, -y * 0.75F}, tip});
    pen.path({{tip.x - x * 0.6F - y * 0.6F, tip.y - y * 0.6F + x * 0.6F},
              tip,
              {tip.x - x * 0.6F + y * 0.6F, tip.y - y * 0.6F - x * 0.6F}});
}

void draw_action(const Pen& pen, Shape shape) {
    switch (shape) {
        case Shape::plus:
            pen.path({{-0.75F, 0}, {0.75F, 0}});
            pen.path({{0, -0.75F}, {0, 0.75F}});
            break;
        case Shape::minus:
            pen.path({{-0.75F, 0}, {0.75F, 0}});
            break;
        case Shape::cross:
            pen.path({{-0.6F, -0.6F}, {0.6F, 0.6F}});
            pen.path({{0.6F, -0.6F}, {-0.6F, 0.6F}});
            break;
        case Shape::arrow_left:
            draw_arrow(pen, -1, 0);
            break;
        case Shape::arrow_right:
            draw_arrow(pen, 1, 0);
            break;
        case Shape::arrow_up:
            draw_arrow(pen, 0, -1);
            break;
        case Shape::arrow_down:
            draw_arrow(pen, 0, 1);
            break;
        case Shape::chevron:
            pen.path({{-0.3F, -0.6F}, {0.3F, 0}, {-0.3F, 0.6F}});
            break;
        case Shape::search:
            pen.ring(-0.2F, -0.2F, 0.55F);
            pen.path({{0.2F, 0.2F}, {0.8F, 0.8F}});
            break;
        case Shape::undo:
            pen.arc(0.1F, 0.2F, 0.6F, -pi / 2, pi * 0.75F);
            pen.path({{0.1F, -0.4F}, {-0.75F, -0.4F}});
            pen.path({{-0.4F, -0.8F}, {-0.78F, -0.4F}, {-0.4F, 0}});
            break;
        case Shape::redo:
            pen.arc(-0.1F, 0.2F, 0.6F, pi * 0.25F, pi * 1.5F);
            pen.path({{-0.1F, -0.4F}, {0.75F, -0.4F}});
            pen.path({{0.4F, -0.8F}, {0.78F, -0.4F}, {0.4F, 0}});
            break;
        case Shape::erase:
            pen.path({{-0.9F, 0}, {-0.35F, -0.6F}, {0.9F, -0.6F}, {0.9F, 0.6F}, {-0.35F, 0.6F}}, true);
            pen.path({{0, -0.25F}, {0.5F, 0.25F}});
            pen.path({{0.5F, -0.25F}, {0, 0.25F}});
            break;
        case Shape::more:
            for (float x : {-0.65F, 0.0F, 0.65F}) pen.dot(x, 0, 0.16F, pen.colour);
            break;
        default:  // fit
            pen.path({{-0.8F, -0.35F}, {-0.8F, -0.8F}, {-0.35F, -0.8F}});
            pen.path({{0.8F, 0.35F}, {0.8F, 0.8F}, {0.35F, 0.8F}});
            pen.path({{0.8F, -0.35F}, {0.8F, -0.8F}, {0.35F, -0.8F}});
            pen.path({{-0.8F, 0.35F}, {-0.8F, 0.8F}, {-0.35F, 0.8F}});
            break;
    }
}

void draw_thing(const Pen& pen, Shape shape) {
    switch (shape) {
        case Shape::amplifier:  // the schematic triangle, pointing down the line
            pen.fill({{-0.85F, -0.75F}, {0.85F, -0.75F}, {0, 0.8F}}, pen.colour);
            break;
        case Shape::loudspeaker:  // box and horn
            pen.box(-0.8F, -0.35F, -0.25F, 0.35F, true);
            pen.fill({{-0.25F, -0.35F}, {0.7F, -0.85F}, {0.7F, 0.85F}, {-0.25F, 0.35F}}, pen.colour);
            break;
        case Shape::attenuator:  // a knob with its pointer
            pen.dot(0, 0, 0.85F, pen.colour);
            pen.cut_path({{0, 0}, {0.42F, -0.52F}});
            break;
        case Shape::splice:
            pen.dot(0, 0, 0.5F, pen.colour);
            break;
        default:  // other_point
            pen.box(-0.6F, -0.6F, 0.6F, 0.6F, false);
            break;
    }
}

void draw_place(const Pen& pen, Shape shape) {
    switch (shape) {
        case Shape::survey:  // a folding rule over a plan's corner
            pen.path({{-0.85F, -0.85F}, {-0.85F, 0.85F}, {0.85F, 0.85F}});
            for (float at : {-0.45F, 0.0F, 0.45F}) pen.path({{-0.85F, at}, {-0.45F, at}});
            pen.path({{-0.2F, 0.3F}, {0.8F, -0.7F}});
            break;
        case Shape::rooms:  // a plan with a door swing
            pen.path({{0.1F, 0.8F}, {-0.8F, 0.8F}, {-0.8F, -0.8F}, {0.8F, -0.8F}, {0.8F, 0.8F}});
            pen.path({{0.1F, 0.8F}, {0.1F, 0.1F}});
            pen.arc(0.1F, 0.8F, 0.7F, -pi / 2, 0);
            break;
        case Shape::lines:  // a line with two branches
            pen.path({{-0.45F, -0.85F}, {-0.45F, 0.85F}});
            pen.path({{-0.45F, -0.3F}, {0.45F, -0.3F}});
            pen.path({{-0.45F, 0.45F}, {0.45F, 0.45F}});
            pen.dot(0.6F, -0.3F, 0.24F, pen.colour);
            pen.dot(0.6F, 0.45F, 0.24F, pen.colour);
            break;
        case Shape::readings:  // a meter's needle
            pen.arc(0, 0.5F, 0.9F, pi, 2 * pi);
            pen.path({{-0.9F, 0.5F}, {0.9F, 0.5F}});
            pen.path({{0, 0.5F}, {0.42F, -0.1F}});
            break;
        case Shape::snags:  // a flag on a stake
            pen.path({{-0.55F, 0.9F}, {-0.55F, -0.85F}});
            pen.fill({{-0.5F, -0.85F}, {0.75F, -0.45F}, {-0.5F, 0.05F}}, pen.colour);
            break;
        default:  // handover: a sheet
            pen.path({{-0.65F, -0.85F}, {0.3F, -0.85F}, {0.65F, -0.5F}, {0.65F, 0.85F}, {-0.65F, 0.85F}}, true);
            for (float at : {-0.2F, 0.15F, 0.5F}) pen.path({{-0.3F, at}, {0.3F, at}});
            break;
    }
}

}  // namespace

Shape tone_shape(Tone tone) {
    switch (tone) {
        case Tone::good:
            return Shape::check;
        case Tone::note:
            return Shape::diamond;
        case Tone::warning:
            return Shape::triangle;
        case Tone::stop:
            return Shape::octagon;
        case Tone::plain:
            break;
    }
    return Shape::none;
}

bool in_sight(const ImDrawList* list, ImVec2 least, ImVec2 greatest) {
    const ImVec2 from = list->GetClipRectMin(), to = list->GetClipRectMax();
    return least.x < to.x && greatest.x > from.x && least.y < to.y && greatest.y > from.y;
}

void draw_shape(ImDrawList* list, Shape shape, ImVec2 centre, float size, Colour colour, Colour cut) {
    if (shape == Shape::none ||
        !in_sight(list, ImVec2(centre.x - size, centre.y - size), ImVec2(centre.x + size, centre.y + size)))
        return;
    const Pen pen{list, centre, size / 2, ink(colour), ink(cut), std::max(1.5F, size / 10)};
    if (shape <= Shape::octagon)
        draw_tone(pen, shape);
    else if (shape <= Shape::fit)
        draw_action(pen, shape);
    else if (shape <= Shape::other_point)
        draw_thing(pen, shape);
    else
        draw_place(pen, shape);
}

void draw_hatch(ImDrawList* list, ImVec2 least, ImVec2 greatest, Colour colour, float step, float thickness) {
    const float height = greatest.y - least.y;
    list->PushClipRect(least, greatest, true);
    const float first = least.x - height + step / 2;
    const auto x_of = [&](int line) { return first + static_cast<float>(line) * step; };
    for (int i = 0; x_of(i) < greatest.x; ++i) {
        const float x = x_of(i);
        list->AddLine(ImVec2(x, greatest.y), ImVec2(x + height, least.y), ink(colour), thickness);
    }
    list->PopClipRect();
}

void draw_dashed_line(ImDrawList* list, ImVec2 from, ImVec2 to, Colour colour, float dash, float thickness) {
    const float length = std::hypot(to.x - from.x, to.y - from.y);
    if (length <= 0 || dash <= 0) return;
    const ImVec2 way((to.x - from.x) / length, (to.y - from.y) / length);
    for (int i = 0; static_cast<float>(i) * dash < length; i += 2) {
        const float at = static_cast<float>(i) * dash;
        const float end = std::min(at + dash, length);
        list->AddLine(ImVec2(from.x + way.x * at, from.y + way.y * at),
                      ImVec2(from.x + way.x * end, from.y + way.y * end), ink(colour), thickness);
    }
}

void draw_dashed_rect(ImDrawList* list, ImVec2 least, ImVec2 greatest, Colour colour, float dash, float thickness) {
    const float half = thickness / 2;
    const ImVec2 a(least.x + half, least.y + half), b(greatest.x - half, greatest.y - half);
    draw_dashed_line(list, a, ImVec2(b.x, a.y), colour, dash, thickness);
    draw_dashed_line(list, ImVec2(b.x, a.y), b, colour, dash, thickness);
    draw_dashed_line(list, b, ImVec2(a.x, b.y), colour, dash, thickness);
    draw_dashed_line(list, ImVec2(a.x, b.y), a, colour, dash, thickness);
}

}  // namespace tapwright::ui
