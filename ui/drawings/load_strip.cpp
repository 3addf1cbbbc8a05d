#include "ui/drawings/load_strip.h"

#include <algorithm>
#include <cmath>

#include "core/units/limit.h"
#include "ui/frame/shapes.h"
#include "ui/frame/text.h"
#include "ui/widgets/touchable.h"

namespace tapwright::ui {
namespace {

constexpr float bar_units = 48, amplifier_units = 12;

Colour colour_of(const Context& context, const LoadBlock& block, std::size_t index) {
    const Theme& theme = context.theme;
    if (block.selected) return theme.accent;
    return index % 2 == 0 ? theme.block : theme.block_other;
}

bool label_fits(Context& context, const std::string& label, const LoadStripLayout::Span& span,
                const LoadStripLayout& layout) {
    const float words = text_width(context, TextSize::caption, label) + 2 * context.px(4);
    return !label.empty() && words <= span.width() && !layout.marks_cross(span, words);
}

// What a reading shows and nobody recorded is never left without its word.
std::string untold(Context& context, const LoadStripData& data, const LoadStripLayout& layout) {
    for (std::size_t i = 0; i < data.blocks.size(); ++i) {
        if (data.blocks[i].kind != LoadBlock::Kind::unrecorded) continue;
        std::string label = context.words.text(data.blocks[i].label);
        if (!label_fits(context, label, layout.blocks[i], layout)) return label;
    }
    return {};
}

void draw_untold(Context& context, ImDrawList* list, std::string_view words, Area line) {
    const float sign = context.px(16), gap = context.px(6);
    const Colour colour = context.theme.warning.solid;
    draw_shape(list, Shape::triangle, ImVec2(line.x + sign / 2, line.y + line.height / 2), sign, colour,
               context.theme.card);
    write_line(context, list, TextSize::body, colour, words,
               {line.x + sign + gap, line.y, std::max(1.0F, line.width - sign - gap), line.height});
}

void draw_block(Context& context, ImDrawList* list, const LoadBlock& block, const std::string& label, std::size_t index,
                Area a, const LoadStripLayout& layout) {
    const Theme& theme = context.theme;
    const ImVec2 least(a.x, a.y), greatest(a.x + a.width, a.y + a.height);
    const Colour colour = colour_of(context, block, index);
    const float thick = std::max(1.0F, std::floor(1.5F * context.scale));
    Colour words = theme.on_block;
    switch (block.kind) {
        case LoadBlock::Kind::recorded:
            list->AddRectFilled(least, greatest, ink(colour));
            break;
        case LoadBlock::Kind::planned:  // recorded only as intended: outlined, not filled
            list->AddRectFilled(least, greatest, ink(theme.field));
            list->AddRect(ImVec2(a.x + thick / 2, a.y + thick / 2),
                          ImVec2(greatest.x - thick / 2, greatest.y - thick / 2), ink(colour), 0, 0, 2 * thick);
            words = theme.text;
            break;
        case LoadBlock::Kind::unrecorded:
            list->AddRectFilled(least, greatest, ink(theme.warning.fill));
            draw_hatch(list, least, greatest, theme.warning.solid, context.px(9), thick);
            break;
        case LoadBlock::Kind::trial:
            list->AddRectFilled(least, greatest, ink(theme.card));
            draw_dashed_rect(list, least, greatest, theme.trial, context.px(5), 2 * thick);
            words = theme.text;
            break;
    }
    if (block.selected && block.kind != LoadBlock::Kind::recorded)
        list->AddRect(least, greatest, ink(theme.accent), 0, 0, context.px(3));
    if (block.selected) words = block.kind == LoadBlock::Kind::recorded ? theme.on_accent : theme.text;
    const float wide = text_width(context, TextSize::caption, label), side = context.px(4);
    if (wide + 2 * side > a.width || !label_fits(context, label, layout.blocks[index], layout)) return;
    if (block.kind == LoadBlock::Kind::unrecorded) {  // words need a quiet ground
        const float x = std::floor(a.x + (a.width - wide) / 2), height = line_height(context, TextSize::caption);
        const float y = std::floor(a.y + (a.height - height) / 2);
        list->AddRectFilled(ImVec2(x - side, y), ImVec2(x + wide + side, y + height), ink(theme.warning.fill),
                            context.px(4));
        words = theme.warning.text;
    }
    write_line(context, list, TextSize::caption, words, label, {a.x + side, a.y, a.width - 2 * side, a.height},
               Align::centre);
}

void draw_limit(Context& context, ImDrawList* list, const LoadStripLayout& layout, Area bar) {
    const Theme& theme = context.theme;
    const float thick = context.px(3), overhang = context.px(4);
    const float x = bar.x + layout.limit;
    if (layout.over) {
        const float end = bar.x + layout.load_end;
        list->AddRect(ImVec2(x, bar.y), ImVec2(end, bar.y + bar.height), ink(theme.stop.solid), 0, 0, thick);
        const float sign = context.px(22);
        if (end - x > sign + thick * 2) {
            const ImVec2 middle((x + end) / 2, bar.y + bar.height / 2);
            list->AddCircleFilled(middle, sign * 0.75F, ink(theme.stop.fill), 24);
            draw_shape(list, Shape::octagon, middle, sign, theme.stop.solid, theme.stop.fill);
        }
    }
    const float right = std::min(x, bar.x + bar.width - thick / 2);
    list->AddLine(ImVec2(right, bar.y - overhang), ImVec2(right, bar.y + bar.height + overhang), ink(theme.text),
                  thick);
}

void draw_reserve(Context& context, ImDrawList* list, const LoadStripLayout& layout, Area bar) {
    if (layout.reserve.width() < 1) return;
    const ImVec2 least(bar.x + layout.reserve.left, bar.y), greatest(bar.x + layout.reserve.right, bar.y + bar.height);
    draw_dashed_line(list, least, ImVec2(least.x, greatest.y), context.theme.text, context.px(4), context.px(2));
    // The part of the reserve that is still free is dotted, so that it does not read as room to fill.
    const float free_from = std::max(least.x, bar.x + layout.load_end), step = context.px(8);
    const auto dot = [&](int column, int row) {
        return ImVec2(free_from + static_cast<float>(column) * step, least.y + static_cast<float>(row) * step);
    };
    for (int column = 1; dot(column, 0).x < greatest.x - step / 2; ++column)
        for (int row = 1; dot(0, row).y < greatest.y - step / 2; ++row) {
            const ImVec2 at = dot(column, row);
            list->AddRectFilled(at, ImVec2(at.x + context.px(2), at.y + context.px(2)), ink(context.theme.quiet_text));
        }
}

void draw_amplifier(Context& context, ImDrawList* list, const LoadStripData& data, Area area, bool with_words) {
    const Theme& theme = context.theme;
    const float bar = context.px(amplifier_units);
    panel(context, list, {area.x, area.y, area.width, bar}, theme.field, theme.edge, 3);
    const double whole = std::max(data.amplifier_limit_w, data.amplifier_load_w);
    if (whole > 0) {
        const auto load = static_cast<float>(data.amplifier_load_w / whole) * area.width;
        const Colour colour = data.amplifier_tone == Tone::plain || data.amplifier_tone == Tone::good
                                  ? theme.block
                                  : theme.tone(data.amplifier_tone).solid;
        if (load >= 1) panel(context, list, {area.x, area.y, std::floor(load), bar}, colour, colour, 3, 0);
        if (data.amplifier_limit_w > 0) {
            const float x = area.x + static_cast<float>(data.amplifier_limit_w / whole) * area.width - context.px(1);
            list->AddLine(ImVec2(x, area.y - context.px(3)), ImVec2(x, area.y + bar + context.px(3)), ink(theme.text),
                          context.px(2));
        }
    }
    if (!with_words) return;
    const float sign = data.amplifier_tone == Tone::plain ? 0 : context.px(16);
    const float gap = sign > 0 ? context.px(6) : 0, y = area.y + bar + context.px(4);
    const float line = line_height(context, TextSize::body);
    const Colour colour = data.amplifier_tone == Tone::plain ? theme.quiet_text : theme.tone(data.amplifier_tone).solid;
    draw_shape(list, tone_shape(data.amplifier_tone), ImVec2(area.x + sign / 2, y + line / 2), sign, colour,
               theme.card);
    write_line(context, list, TextSize::body, colour, context.words.text(data.amplifier),
               {area.x + sign + gap, y, std::max(1.0F, area.width - sign - gap), line});
}

// Title at the left, the deciding number with its word at the right; below one another where they do not fit.
float draw_head(Context& context, ImDrawList* list, std::string_view name, const LoadStripData& data, ImVec2 at,
                float width, bool only_measure) {
    const Theme& theme = context.theme;
    const float sign = data.tone == Tone::plain ? 0 : context.px(22), gap = context.px(8);
    const std::string headroom = context.words.text(data.headroom), heading = context.words.text(data.title);
    const std::string headroom_word = context.words.text(data.headroom_word);
    const float number = text_width(context, TextSize::big, headroom);
    const float word = text_width(context, TextSize::strong, headroom_word);
    const float right = number + gap + word + (sign > 0 ? sign + gap : 0);
    const float big = line_height(context, TextSize::big), line = line_height(context, TextSize::strong);
    const float title = text_width(context, TextSize::strong, heading);
    const bool one_line = title + gap * 2 + right <= width;
    const float height = one_line ? big : line + big;
    if (only_measure) return height;
    const float title_room = one_line ? width - right - gap * 2 : width;
    write_line(context, list, TextSize::strong, theme.text, heading, {at.x, at.y, title_room, one_line ? big : line});
    float x = one_line ? at.x + width - right : at.x;
    const float y = one_line ? at.y : at.y + line;
    const bool calm = data.tone == Tone::plain || data.tone == Tone::good;
    const Colour colour = calm ? theme.text : theme.tone(data.tone).solid;
    if (sign > 0) {
        draw_shape(list, tone_shape(data.tone), ImVec2(x + sign / 2, y + big / 2), sign, theme.tone(data.tone).solid,
                   theme.card);
        x += sign + gap;
    }
    const float number_room = std::max(1.0F, std::min(number, at.x + width - x));
    write_line(context, list, TextSize::big, colour, headroom, {x, y, number_room, big});
    const float word_x = x + number + gap, word_room = std::max(1.0F, at.x + width - word_x);
    write_line(context, list, TextSize::strong, colour, headroom_word,
               {word_x, y + std::floor((big - line) * 0.8F), std::min(word, word_room), line});
    mark_area(context, std::string(name) + ".headroom", {at.x, at.y, width, height},
              context.words.text(in_a_row({data.headroom, data.headroom_word})));
    return height;
}

}  // namespace

LoadStripLayout lay_out_load_strip(std::span<const LoadBlock> blocks, double limit_w, double reserve_w, float width) {
    LoadStripLayout layout;
    double load = 0;
    for (const LoadBlock& block : blocks) load += block.watts;
    const double whole = std::max(load, limit_w);
    const double per_watt = whole > 0 ? static_cast<double>(width) / whole : 0;
    layout.pixels_per_watt = static_cast<float>(per_watt);
    double watts = 0;
    for (const LoadBlock& block : blocks) {
        const auto left = static_cast<float>(watts * per_watt);
        watts += block.watts;
        layout.blocks.push_back({left, static_cast<float>(watts * per_watt)});
    }
    layout.load_end = static_cast<float>(load * per_watt);
    layout.limit = limit_w > 0 ? static_cast<float>(limit_w * per_watt) : width;
    layout.over = limit_w > 0 && !keeps_most(Watts(load), Watts(limit_w));
    const double free_w = std::max(0.0, limit_w - std::max(0.0, reserve_w));
    if (limit_w > 0) layout.reserve = {static_cast<float>(free_w * per_watt), layout.limit};
    return layout;
}

bool LoadStripLayout::marks_cross(const Span& span, float words) const {
    const float left = (span.left + span.right - words) / 2, right = left + words;
    const auto in_words = [&](float x) { return x > left && x < right; };
    return (reserve.width() > 0 && in_words(reserve.left)) || (limit > 0 && in_words(limit)) ||
           (over && span.right > limit);
}

LoadStripTouch load_strip(Context& context, std::string_view name, const LoadStripData& data) {
    const float width = width_left(), pad = context.px(4), bar_height = context.px(bar_units);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float head = draw_head(context, nullptr, name, data, at, width, true);
    const float line = line_height(context, TextSize::body);
    const bool amplifier_calm = data.amplifier_tone == Tone::plain || data.amplifier_tone == Tone::good;
    const bool amplifier_words = !data.compact || !amplifier_calm;
    const float words_below = amplifier_words ? context.px(8) + line : 0;
    const float amplifier = data.amplifier.empty() ? 0 : context.px(amplifier_units) + context.px(4) + words_below;
    const Lines load = broken_into_lines(context, TextSize::body, context.words.text(data.load), width);
    const bool with_load = !data.load.empty() && !data.compact;
    const float load_height = with_load ? load.height + pad : 0;
    const LoadStripLayout layout = lay_out_load_strip(data.blocks, data.limit_w, data.reserve_w, width);
    const std::string unrecorded = untold(context, data, layout);
    const float unrecorded_height = unrecorded.empty() ? 0 : line + pad;
    const float height = head + pad * 2 + bar_height + pad * 2 + unrecorded_height + load_height + amplifier;
    const Message words =
        read_out({data.title, in_a_row({data.headroom, data.headroom_word}), data.load, data.amplifier});
    const Touch touch = touchable(context, name, ImVec2(width, height), context.words.text(words));
    ImDrawList* list = ImGui::GetWindowDrawList();
    draw_head(context, list, name, data, at, width, false);
    const Area bar{at.x, at.y + head + pad * 2, width, bar_height};
    panel(context, list, bar, context.theme.field, context.theme.edge, 3, 1.5F);
    LoadStripTouch result{-1, touch.tapped};
    const float finger = ImGui::GetIO().MousePos.x - bar.x;
    const float gap = std::max(1.0F, std::floor(context.scale));
    for (std::size_t i = 0; i < data.blocks.size(); ++i) {
        const LoadStripLayout::Span& span = layout.blocks[i];
        // Neighbours are told apart by a line of the ground, as long as there is room for one.
        const float seam = span.width() > 4 * gap ? gap : 0;
        const Area area{bar.x + span.left, bar.y, std::max(0.0F, span.width() - seam), bar.height};
        const std::string label = context.words.text(data.blocks[i].label);
        if (area.width > 0) draw_block(context, list, data.blocks[i], label, i, area, layout);
        mark_area(context, std::string(name) + ".block." + data.blocks[i].id, area, label);
        if (touch.tapped && finger >= span.left && finger < span.right) result.block = static_cast<int>(i);
    }
    draw_reserve(context, list, layout, bar);
    if (data.limit_w > 0) draw_limit(context, list, layout, bar);
    float y = bar.y + bar.height + pad * 2;
    if (!unrecorded.empty()) draw_untold(context, list, unrecorded, {at.x, y, width, line});
    y += unrecorded_height;
    if (with_load) {
        write(context, list, TextSize::body, context.theme.quiet_text, load, {at.x, y, width, load.height});
        y += load_height;
    }
    if (!data.amplifier.empty())
        draw_amplifier(context, list, data, {at.x, y + pad, width, amplifier}, amplifier_words);
    focus_ring(context, touch, measure::corner);
    return result;
}

namespace {

// Without words and frames: what is drawn, what nobody recorded, the reserve and the limit.
void draw_thin_bar(Context& context, ImDrawList* list, const LoadStripData& data, Area bar) {
    const LoadStripLayout layout = lay_out_load_strip(data.blocks, data.limit_w, data.reserve_w, bar.width);
    panel(context, list, bar, context.theme.field, context.theme.edge, 3);
    const float gap = std::max(1.0F, std::floor(context.scale));
    for (std::size_t i = 0; i < data.blocks.size(); ++i) {
        const LoadStripLayout::Span& span = layout.blocks[i];
        const Area area{bar.x + span.left, bar.y, span.width() - (span.width() > 4 * gap ? gap : 0), bar.height};
        if (area.width > 0) draw_block(context, list, data.blocks[i], {}, i, area, layout);
    }
    if (layout.reserve.width() >= 1) {
        const float x = bar.x + layout.reserve.left;
        draw_dashed_line(list, ImVec2(x, bar.y), ImVec2(x, bar.y + bar.height), context.theme.text, context.px(3),
                         context.px(2));
    }
    if (data.limit_w <= 0) return;
    const float x = std::min(bar.x + layout.limit, bar.x + bar.width) - context.px(1);
    list->AddLine(ImVec2(x, bar.y - context.px(2)), ImVec2(x, bar.y + bar.height + context.px(2)),
                  ink(layout.over ? context.theme.stop.solid : context.theme.text), context.px(3));
}

}  // namespace

bool load_line(Context& context, std::string_view name, const LoadStripData& data, float height) {
    const Theme& theme = context.theme;
    const float width = width_left(), gap = context.px(measure::gap), opens = context.px(14);
    const std::string title = context.words.text(data.title);
    const std::string figure = context.words.text(in_a_row({data.headroom, data.headroom_word}));
    const Message words =
        read_out({data.title, in_a_row({data.headroom, data.headroom_word}), data.load, data.amplifier});
    const Touch touch = touchable(context, name, ImVec2(width, height), context.words.text(words));
    const Area& a = touch.area;
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float line = line_height(context, TextSize::strong), bar = context.px(12), between = context.px(4);
    const float top = a.y + std::floor((height - line - between - bar) / 2);
    const float sign = data.tone == Tone::plain ? 0 : context.px(18), sign_gap = sign > 0 ? context.px(6) : 0;
    const float room = std::max(1.0F, width - opens - 2 * gap);
    // The figure decides: the name gives way, down to a quarter.
    const float least_title = std::min(text_width(context, TextSize::strong, title), std::floor(room / 4));
    const float wanted = text_width(context, TextSize::strong, figure);
    const float figure_room = std::max(1.0F, std::min(wanted, room - least_title - sign - sign_gap));
    const float x = a.x + room + gap - figure_room;
    const bool calm = data.tone == Tone::plain || data.tone == Tone::good;
    write_line(context, list, TextSize::strong, theme.text, title,
               {a.x, top, std::max(1.0F, x - sign - sign_gap - gap - a.x), line});
    draw_shape(list, tone_shape(data.tone), ImVec2(x - sign_gap - sign / 2, top + line / 2), sign,
               theme.tone(data.tone).solid, theme.card);
    write_line(context, list, TextSize::strong, calm ? theme.text : theme.tone(data.tone).solid, figure,
               {x, top, figure_room, line});
    mark_area(context, std::string(name) + ".headroom", {x, top, figure_room, line}, figure);
    draw_shape(list, Shape::chevron, ImVec2(a.x + width - opens / 2, a.y + height / 2), opens, theme.quiet_text,
               theme.card);
    draw_thin_bar(context, list, data, {a.x, top + line + between, room + gap, bar});
    focus_ring(context, touch, measure::corner);
    return touch.tapped;
}

}  // namespace tapwright::ui
