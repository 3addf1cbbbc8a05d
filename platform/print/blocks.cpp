#include <algorithm>
#include <variant>

#include "core/base/ensure.h"
#include "platform/print/compose.h"
#include "platform/print/layouts.h"

namespace tapwright::print {

const Style& body_of(const Composer& composer, bool strong) {
    static constexpr Style styles[] = {theme::body, theme::body_strong, theme::body_dense, theme::body_dense_strong};
    return styles[(composer.dense ? 2 : 0) + (strong ? 1 : 0)];
}

namespace {

void add_heading(Composer& composer, const document::Heading& heading) {
    TAPWRIGHT_ENSURE(heading.level >= 1 && heading.level <= 3);
    static constexpr Style styles[] = {theme::heading_1, theme::heading_2, theme::heading_3};
    static constexpr Style dense[] = {theme::heading_1_dense, theme::heading_2_dense, theme::heading_3};
    static constexpr Role roles[] = {Role::heading_1, Role::heading_2, Role::heading_3};
    static constexpr double spaces[] = {26, 24, 15};
    static constexpr double dense_spaces[] = {12, 7, 6};
    const auto level = static_cast<std::size_t>(heading.level - 1);
    // The tag tree must not skip a level, even where the sheet does.
    composer.heading_depth = std::min(heading.level, composer.heading_depth + 1);
    const int element = composer.structure.add(roles[composer.heading_depth - 1]);
    const std::size_t first = composer.flow.strips.size();
    add_lines(composer,
              {.text = composer.type.set(heading.text, (composer.dense ? dense : styles)[level], composer.width),
               .width = composer.width,
               .element = element,
               .space_before = (composer.dense ? dense_spaces : spaces)[level],
               .keep_together = true,
               .keep_with_next = true});
    composer.flow.strips[first].bookmarks = {{{composer.heading_depth, settable(heading.text), heading.level == 2}, 0}};
    Strip below;
    below.keep_with_next = true;
    below.height = heading.level == 1 && !composer.dense ? 10 : 2;
    if (heading.level == 2) {
        below.shapes.push_back(
            {.y = composer.dense ? 1.0 : 3.0, .width = composer.width, .height = 0.8, .colour = theme::ink});
        below.height = composer.dense ? 3 : 5;
    }
    add_strip(composer, std::move(below));
}

// A paragraph with a tone: a bar at its left as heavy as the tone, the tone's shape, and the text beside it.
void add_note(Composer& composer, const document::Paragraph& paragraph) {
    constexpr double bar = 3;
    constexpr double indent = 26;
    const double padding = composer.dense ? 4 : 6;
    const Style& style = body_of(composer, paragraph.tone == document::Tone::stop);
    const double width = composer.width - indent - 10;
    const std::size_t first = composer.flow.strips.size();
    add_lines(composer, {.text = composer.type.set(paragraph.text, style, width),
                         .x = indent,
                         .width = width,
                         .element = composer.structure.add(Role::paragraph),
                         .space_before = composer.dense ? 5.0 : 8.0});
    auto& strips = composer.flow.strips;
    const std::size_t end = strips.size();
    for (std::size_t k = first; k < end; ++k) {
        Strip& strip = strips[k];
        const double above = k == first ? padding : 0;
        for (Item& item : strip.items) item.y += above;
        strip.height += above + (k + 1 == end ? padding : 0);
        strip.keep_with_next = k + 1 < end && (end - first <= 12 || strip.keep_with_next);
        strip.shapes.push_back({.width = composer.width, .height = strip.height, .colour = theme::track});
        strip.shapes.push_back({.width = bar, .height = strip.height, .colour = tone_colour(paragraph.tone)});
    }
    strips[first].shapes.push_back(
        {.kind = Shape::Kind::tone, .x = 11, .y = padding + 2.6, .width = 8, .tone = paragraph.tone});
}

void add_paragraph(Composer& composer, const document::Paragraph& paragraph) {
    if (paragraph.tone != document::Tone::plain) return add_note(composer, paragraph);
    add_lines(composer, {.text = composer.type.set(paragraph.text, body_of(composer), composer.width),
                         .width = composer.width,
                         .element = composer.structure.add(Role::paragraph),
                         .space_before = composer.dense ? 4.0 : 6.0});
}

// Where a list is numbered its number is what is read, else a bullet is drawn and nothing is said.
void put_label(Composer& composer, Strip& strip, const document::Bullets& bullets, std::size_t place, int item) {
    if (!bullets.numbered) {
        strip.shapes.push_back({.kind = Shape::Kind::bullet, .x = 2, .y = 5.3, .width = 3, .colour = theme::ink});
        return;
    }
    const SharedText number = composer.type.set(std::to_string(place + 1) + ".", body_of(composer, true));
    strip.items.insert(strip.items.begin(), Item{.text = number, .last = 1, .width = 20, .element = item});
}

void add_bullets(Composer& composer, const document::Bullets& bullets) {
    const double indent = bullets.numbered ? 17 : 13;
    if (bullets.items.empty()) return;
    const int list = composer.structure.add(Role::list);
    for (const std::string& text : bullets.items) {
        const std::size_t first = composer.flow.strips.size();
        const int item = composer.structure.add(Role::item, list);
        const int label = bullets.numbered ? composer.structure.add(Role::item_label, item) : item;
        add_lines(composer, {.text = composer.type.set(text, body_of(composer), composer.width - indent),
                             .x = indent,
                             .width = composer.width - indent,
                             .element = composer.structure.add(Role::item_body, item),
                             .space_before = (&text == bullets.items.data() ? 6.0 : 2.5) * (composer.dense ? 0.5 : 1)});
        put_label(composer, composer.flow.strips[first], bullets,
                  static_cast<std::size_t>(&text - bullets.items.data()), label);
    }
}

}  // namespace

Strip& add_strip(Composer& composer, Strip strip) {
    strip.new_page = composer.break_next;
    composer.break_next = false;
    composer.flow.strips.push_back(std::move(strip));
    return composer.flow.strips.back();
}

void add_lines(Composer& composer, const Lines& lines) {
    const std::size_t count = lines.text->line_count();
    for (std::size_t k = 0; k < count; ++k) {
        Strip strip;
        strip.height = lines.text->lines()[k].height;
        strip.space_before = k == 0 ? lines.space_before : 0;
        const bool last = k + 1 == count;
        strip.keep_with_next = last ? lines.keep_with_next : lines.keep_together || k == 0 || k + 2 == count;
        if (!lines.text->empty())
            strip.items.push_back({.text = lines.text,
                                   .first = k,
                                   .last = k + 1,
                                   .x = lines.x,
                                   .width = lines.width,
                                   .colour = lines.colour,
                                   .element = lines.element});
        add_strip(composer, std::move(strip));
    }
}

Result<void> add_block(Composer& composer, const document::Block& block) {
    if (const auto* heading = std::get_if<document::Heading>(&block)) add_heading(composer, *heading);
    if (const auto* paragraph = std::get_if<document::Paragraph>(&block)) add_paragraph(composer, *paragraph);
    if (const auto* bullets = std::get_if<document::Bullets>(&block)) add_bullets(composer, *bullets);
    if (const auto* facts = std::get_if<document::Facts>(&block)) add_facts(composer, *facts);
    if (const auto* table = std::get_if<document::Table>(&block)) add_table(composer, *table);
    if (const auto* contents = std::get_if<document::Contents>(&block)) add_contents(composer, *contents);
    if (const auto* signature = std::get_if<document::SignatureLine>(&block)) add_signature(composer, *signature);
    if (const auto* labels = std::get_if<document::Labels>(&block)) add_labels(composer, *labels);
    if (std::holds_alternative<document::PageBreak>(block)) composer.break_next = true;
    if (const auto* figure = std::get_if<document::Figure>(&block)) return add_figure(composer, *figure);
    return done();
}

Result<void> compose(Composer& composer, const document::Document& document) {
    return compose_range(composer, document.blocks);
}

}  // namespace tapwright::print
