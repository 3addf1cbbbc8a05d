#include "ui/widgets/chart.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "ui/frame/shapes.h"
#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

void widen_when_flat(double& least, double& greatest, double by) {
    if (greatest - least < 1e-9) {
        least -= by;
        greatest += by;
    }
}

std::string axis_label(const Context& context, double value, Unit unit) {
    return context.words.text(Message(Figure{value, unit}));
}

void draw_band(Context& context, ImDrawList* list, const ChartData& data, const ChartLayout& layout) {
    if (!data.has_band) return;
    const Theme& theme = context.theme;
    const float top = layout.y_of(data.band_high), bottom = layout.y_of(data.band_low);
    const float left = layout.plot.x, right = layout.plot.x + layout.plot.width;
    if (bottom - top > 1) list->AddRectFilled(ImVec2(left, top), ImVec2(right, bottom), ink(theme.good.fill));
    for (float y : {top, bottom})
        draw_dashed_line(list, ImVec2(left, y), ImVec2(right, y), theme.good.solid, context.px(6), context.px(2));
}

void draw_point(Context& context, ImDrawList* list, const ChartPoint& point, ImVec2 at, bool selected) {
    const Theme& theme = context.theme;
    const Colour colour = point.tone == Tone::plain ? theme.accent : theme.tone(point.tone).solid;
    const float size = context.px(selected ? 20 : 14);
    if (selected) list->AddCircle(at, size, ink(theme.text), 24, context.px(2));
    if (point.tone == Tone::plain || point.tone == Tone::good)
        list->AddCircleFilled(at, size / 2 * 0.7F, ink(colour), 16);
    else
        draw_shape(list, tone_shape(point.tone), at, size, colour, theme.card);
}

void draw_axes(Context& context, ImDrawList* list, const ChartData& data, const ChartLayout& layout, Area whole) {
    const Theme& theme = context.theme;
    const Area& p = layout.plot;
    const float line = line_height(context, TextSize::caption), thick = std::max(1.0F, std::floor(context.scale));
    list->AddLine(ImVec2(p.x, p.y), ImVec2(p.x, p.y + p.height), ink(theme.edge), thick);
    list->AddLine(ImVec2(p.x, p.y + p.height), ImVec2(p.x + p.width, p.y + p.height), ink(theme.edge), thick);
    const float label = p.x - whole.x - context.px(6);
    for (const double value : round_values(layout.y_least, layout.y_greatest)) {
        const float at = std::floor(layout.y_of(value));
        list->AddLine(ImVec2(p.x - context.px(4), at), ImVec2(p.x, at), ink(theme.edge), thick);
        const float top = std::clamp(at - std::floor(line / 2), p.y, std::max(p.y, p.y + p.height - line));
        write_line(context, list, TextSize::caption, theme.quiet_text, axis_label(context, value, data.y_unit),
                   {whole.x, top, label, line}, Align::right);
    }
    const auto end = [&](const Message& words, double value) {
        return words.empty() ? axis_label(context, value, data.x_unit) : context.words.text(words);
    };
    const std::string first = end(data.x_first, layout.x_least), last = end(data.x_last, layout.x_greatest);
    const float y = p.y + p.height + context.px(4), half = std::floor(p.width / 2) - context.px(4);
    write_line(context, list, TextSize::caption, theme.quiet_text, first, {p.x, y, half, line});
    write_line(context, list, TextSize::caption, theme.quiet_text, last, {p.x + p.width - half, y, half, line},
               Align::right);
}

void write_band_word(Context& context, ImDrawList* list, const ChartData& data, const ChartLayout& layout) {
    if (!data.has_band || data.band_word.empty()) return;
    const std::string word = context.words.text(data.band_word);
    const float line = line_height(context, TextSize::caption), side = context.px(6);
    const float width = std::min(text_width(context, TextSize::caption, word), layout.plot.width / 2);
    const float right = layout.plot.x + layout.plot.width;
    const float top = layout.y_of(data.band_high), bottom = layout.y_of(data.band_low);
    const bool inside = !data.limit_is_low && bottom - top > line * 1.5F;
    const float above = top - line - context.px(2), below = bottom + context.px(2);
    const bool goes_below = data.limit_is_low || above < layout.plot.y;
    const float y = inside ? top + context.px(3) : goes_below ? below : above;
    const Colour colour = inside ? context.theme.good.text : context.theme.good.solid;
    write_line(context, list, TextSize::caption, colour, word, {right - width - side, y, width, line}, Align::right);
}

int nearest(const Context& context, const ChartData& data, const ChartLayout& layout, ImVec2 finger) {
    int best = -1;
    float best_distance = context.px(measure::touch);
    for (std::size_t i = 0; i < data.points.size(); ++i) {
        const float distance =
            std::hypot(layout.x_of(data.points[i].x) - finger.x, layout.y_of(data.points[i].y) - finger.y);
        if (distance < best_distance) {
            best_distance = distance;
            best = static_cast<int>(i);
        }
    }
    return best;
}

// The title and what its points say.
std::string mark_of(const Context& context, const ChartData& data) {
    std::string words = context.words.text(data.title);
    for (const ChartPoint& point : data.points)
        if (!point.label.empty())
            words = context.words.text(
                in_context("series", "{these}; {next}", {{"these", code(words)}, {"next", point.label}}));
    return words;
}

}  // namespace

float ChartLayout::x_of(double x) const {
    const auto share = static_cast<float>((x - x_least) / (x_greatest - x_least));
    return plot.x + inset + share * (plot.width - 2 * inset);
}

float ChartLayout::y_of(double y) const {
    return plot.y + plot.height - static_cast<float>((y - y_least) / (y_greatest - y_least)) * plot.height;
}

std::vector<double> round_values(double least, double greatest) {
    const double range = greatest - least;
    double power = std::pow(10, std::floor(std::log10(range)));
    std::vector<double> values;
    for (int tries = 0; tries < 3 && values.size() < 2; ++tries, power /= 10)
        for (const double digit : {5.0, 2.0, 1.0}) {
            values.clear();
            const double step = digit * power;
            for (double n = std::ceil(least / step - 1e-9); n * step <= greatest + step * 1e-9; ++n)
                values.push_back(n == 0 ? 0 : n * step);
            if (values.size() >= 2) break;
        }
    return values;
}

ChartLayout lay_out_chart(const ChartData& data, Area plot) {
    ChartLayout layout;
    layout.plot = plot;
    bool any = data.has_band;
    double x_least = 0, x_greatest = 0, y_least = data.band_low, y_greatest = data.band_high;
    for (std::size_t i = 0; i < data.points.size(); ++i) {
        const ChartPoint& point = data.points[i];
        x_least = i == 0 ? point.x : std::min(x_least, point.x);
        x_greatest = i == 0 ? point.x : std::max(x_greatest, point.x);
        y_least = any ? std::min(y_least, point.y) : point.y;
        y_greatest = any ? std::max(y_greatest, point.y) : point.y;
        any = true;
    }
    widen_when_flat(x_least, x_greatest, 0.5);
    widen_when_flat(y_least, y_greatest, std::max(0.5, std::abs(y_least) * 0.1));
    const double room = (y_greatest - y_least) * 0.12;
    layout.x_least = x_least;
    layout.x_greatest = x_greatest;
    layout.y_least = y_least - (data.limit_is_low ? 2 * room : room);  // the word stands below the limit
    layout.y_greatest = y_greatest + room;
    return layout;
}

int chart(Context& context, std::string_view name, const ChartData& data, float height_units) {
    const Theme& theme = context.theme;
    const float width = width_left(), height = context.px(height_units);
    const std::string heading = context.words.text(data.title), words = mark_of(context, data);
    const Touch touch = touchable(context, name, ImVec2(width, height), words);
    context.marks.last().role = Role::image;
    context.marks.last().by_place = true;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const Area& a = touch.area;
    const Lines titles = broken_into_lines(context, TextSize::strong, heading, width);
    const float title = titles.height, caption = line_height(context, TextSize::caption);
    write(context, list, TextSize::strong, theme.text, titles, {a.x, a.y, width, title});
    Area plot{a.x, a.y + title + context.px(6), width, 0};
    plot.height = std::max(1.0F, height - title - context.px(6) - caption - context.px(8));
    ChartLayout layout = lay_out_chart(data, plot);
    // The y labels decide how much the plot moves to the right; the y scale does not depend on that.
    float label = 0;
    for (const double value : round_values(layout.y_least, layout.y_greatest))
        label = std::max(label, text_width(context, TextSize::caption, axis_label(context, value, data.y_unit)));
    const float left = std::min(label + context.px(8), width / 2), right = context.px(12);
    layout.plot.x += left;
    layout.plot.width = std::max(1.0F, width - left - right);
    layout.inset = context.px(12);
    draw_band(context, list, data, layout);
    write_band_word(context, list, data, layout);
    draw_axes(context, list, data, layout, a);
    ImVec2 before;
    for (std::size_t i = 0; i < data.points.size(); ++i) {
        const ImVec2 at(layout.x_of(data.points[i].x), layout.y_of(data.points[i].y));
        if (data.joined && i > 0) list->AddLine(before, at, ink(theme.block), context.px(2));
        before = at;
    }
    for (std::size_t i = 0; i < data.points.size(); ++i)
        draw_point(context, list, data.points[i], ImVec2(layout.x_of(data.points[i].x), layout.y_of(data.points[i].y)),
                   static_cast<int>(i) == data.selected);
    focus_ring(context, touch, measure::corner);
    return touch.tapped ? nearest(context, data, layout, ImGui::GetIO().MousePos) : -1;
}

}  // namespace tapwright::ui
