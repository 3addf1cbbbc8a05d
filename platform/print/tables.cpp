#include <algorithm>

#include "core/base/ensure.h"
#include "platform/print/grid.h"

namespace tapwright::print {
namespace {

constexpr std::size_t most_kept_rows = 4;
constexpr std::size_t most_kept_facts = 8;

// Breaks a text for its column; most texts fit as they were measured and are not set again.
SharedText fitted(Composer& composer, const std::string& text, const Style& style, double width) {
    SharedText natural = composer.type.set(text, style);
    if (natural->width() <= width) return natural;
    return composer.type.set(text, style, width);
}

// Returns: the number of the repeated head, or -1 when it is too high to be repeated.
int add_header(Composer& composer, const document::Table& table, const Grid& grid, int parent) {
    const int row = composer.structure.add(Role::row, composer.structure.add(Role::table_head, parent));
    std::vector<CellBox> cells;
    for (std::size_t k = 0; k < table.columns.size(); ++k) {
        const document::Column& column = table.columns[k];
        cells.push_back({.text = fitted(composer, column.title, grid.style.header, grid.width[k]),
                         .x = grid.left[k],
                         .width = grid.width[k],
                         .align = column.align,
                         .colour = theme::quiet,
                         .element = composer.structure.add(Role::column_header, row)});
    }
    const std::size_t first = composer.flow.strips.size();
    const bool captioned = !table.caption.empty();
    add_row(composer, cells,
            {.above = composer.dense ? 2.0 : 5.0,
             .below = composer.dense ? 2.0 : 4.0,
             .rule = 0.9,
             .rule_colour = theme::ink,
             .space_before = captioned        ? 0.0
                             : composer.dense ? 1.0
                                              : 10.0,
             .keep_with_next = !table.rows.empty()});
    if (composer.flow.strips.size() != first + 1) return -1;
    const Strip& strip = composer.flow.strips.back();
    Head head{strip.height, strip.shapes, strip.items};
    for (Item& item : head.items) item.element = -1;
    if (captioned) {
        const SharedText again = composer.type.set(
            composer.words.text(Message("{caption} (continued)", {{"caption", entered(table.caption)}})),
            theme::caption);
        if (again->line_count() == 1 && again->width() <= composer.width) {
            const double drop = again->height() + 2;
            for (Item& item : head.items) item.y += drop;
            for (Shape& shape : head.shapes) shape.y += drop;
            head.items.insert(head.items.begin(),
                              Item{.text = again, .last = 1, .width = composer.width, .colour = theme::quiet});
            head.height += drop;
        }
    }
    composer.flow.heads.push_back(std::move(head));
    return static_cast<int>(composer.flow.heads.size()) - 1;
}

void add_body_row(Composer& composer, const document::Table& table, const Grid& grid, std::size_t number, int parent,
                  int head) {
    const int row = composer.structure.add(Role::row, parent);
    std::vector<CellBox> cells;
    for (std::size_t k = 0; k < table.columns.size(); ++k) {
        const document::Cell& cell = table.rows[number][k];
        const double indent = indent_of(cell.tone);
        cells.push_back(
            {.text = fitted(composer, cell.text, style_of(grid.style, k, cell.tone), grid.width[k] - indent),
             .x = grid.left[k],
             .width = grid.width[k],
             .align = table.columns[k].align,
             .colour = tone_colour(cell.tone),
             .element = composer.structure.add(k == 0 ? Role::row_header : Role::cell, row),
             .tone = cell.tone});
    }
    const double padding = composer.dense ? 0.9 : 3.2;
    const std::size_t rows = table.rows.size();
    add_row(composer, cells,
            {.above = padding,
             .below = padding,
             .rule = 0.4,
             .head = head,
             // No row alone at the end of a page or at the start of one; a short table stays together.
             .keep_with_next = number + 1 < rows && (rows <= most_kept_rows || number == 0 || number + 2 == rows)});
}

// Puts lines [first, last) of a cell and, with its first line, the shape of its tone into a strip.
void put_cell(Strip& strip, const CellBox& cell, std::size_t first, std::size_t last, double y) {
    last = std::min(last, cell.text->line_count());
    if (first >= last || cell.text->empty()) return;
    const double indent = indent_of(cell.tone);
    strip.items.push_back({.text = cell.text,
                           .first = first,
                           .last = last,
                           .x = cell.x + indent,
                           .y = y,
                           .width = cell.width - indent,
                           .align = cell.align,
                           .colour = cell.colour,
                           .element = cell.element});
    if (first != 0 || cell.tone == document::Tone::plain) return;
    const Text::Line& line = cell.text->lines()[0];
    const bool left = (cell.align == document::Align::start) || line.right_to_left;
    const double x = left ? cell.x : line_start(line, cell.x + indent, cell.width - indent, cell.align) - indent;
    strip.shapes.push_back({.kind = Shape::Kind::tone,
                            .x = x,
                            .y = y + line.baseline - theme::tone_mark + 0.4,
                            .width = theme::tone_mark,
                            .tone = cell.tone});
}

void add_rule(Composer& composer, Strip& strip, const RowRules& rules) {
    if (rules.rule <= 0) return;
    strip.shapes.push_back(
        {.y = strip.height - rules.rule, .width = composer.width, .height = rules.rule, .colour = rules.rule_colour});
}

}  // namespace

void add_row(Composer& composer, const std::vector<CellBox>& cells, const RowRules& rules) {
    // The first lines stand on one line, whatever their scripts and sizes.
    double baseline = 0;
    for (const CellBox& cell : cells)
        if (!cell.text->empty()) baseline = std::max(baseline, cell.text->lines()[0].baseline);
    const auto drop_of = [&](const CellBox& cell) {
        return cell.text->empty() ? 0.0 : baseline - cell.text->lines()[0].baseline;
    };
    double height = 0;
    std::size_t lines = 1;
    for (const CellBox& cell : cells) {
        height = std::max(height, drop_of(cell) + cell.text->height());
        lines = std::max(lines, cell.text->line_count());
    }
    const bool tall = height > composer.height / 3;
    const std::size_t slices = tall ? lines : 1;
    for (std::size_t k = 0; k < slices; ++k) {
        const bool first = k == 0;
        const bool last = k + 1 == slices;
        Strip strip;
        strip.head = rules.head;
        strip.continues = !first;
        strip.space_before = first ? rules.space_before : 0;
        strip.keep_with_next = last ? rules.keep_with_next : first || k + 2 == slices;
        const double above = first ? rules.above : 0;
        double slice_height = tall ? 0 : height;
        for (const CellBox& cell : cells) {
            if (tall && k < cell.text->line_count())
                slice_height = std::max(slice_height, cell.text->lines()[k].height);
            put_cell(strip, cell, tall ? k : 0, tall ? k + 1 : cell.text->line_count(),
                     above + (tall ? 0 : drop_of(cell)));
        }
        strip.height = above + slice_height + (last ? rules.below + rules.rule : 0);
        if (last) add_rule(composer, strip, rules);
        add_strip(composer, std::move(strip));
    }
}

void add_table(Composer& composer, const document::Table& table) {
    for (const auto& row : table.rows) TAPWRIGHT_ENSURE(row.size() == table.columns.size());
    if (table.columns.empty()) return;
    const int element = composer.structure.add(Role::table);
    if (!table.caption.empty())
        add_lines(composer, {.text = composer.type.set(table.caption, theme::table_caption, composer.width),
                             .width = composer.width,
                             .element = composer.structure.add(Role::caption, element),
                             .space_before = composer.dense ? 6.0 : 12.0,
                             .keep_together = true,
                             .keep_with_next = true});
    const Grid grid = plan(composer, table);
    const int head = add_header(composer, table, grid, element);
    if (table.rows.empty()) return;
    const int body = composer.structure.add(Role::table_body, element);
    for (std::size_t number = 0; number < table.rows.size(); ++number)
        add_body_row(composer, table, grid, number, body, head);
}

void add_facts(Composer& composer, const document::Facts& facts) {
    if (facts.facts.empty()) return;
    double names = 0;
    for (const auto& fact : facts.facts)
        names = std::max(names, composer.type.set(fact.name, body_of(composer))->width());
    names = std::min(names, composer.width * 0.34);
    const double left = names + (composer.dense ? 12 : 18);
    const double width = composer.width - left;
    const int table = composer.structure.add(Role::table);
    const bool is_short = facts.facts.size() <= most_kept_facts;
    const auto* const end = facts.facts.data() + facts.facts.size();
    for (const auto& fact : facts.facts) {
        const int row = composer.structure.add(Role::row, table);
        std::vector<CellBox> cells;
        cells.push_back({.text = fitted(composer, fact.name, body_of(composer), names),
                         .width = names,
                         .colour = theme::quiet,
                         .element = composer.structure.add(Role::row_header, row)});
        cells.push_back(
            {.text = fitted(composer, fact.value, fact.large ? theme::large : body_of(composer, true), width),
             .x = left,
             .width = width,
             .element = composer.structure.add(Role::cell, row)});
        const bool first = &fact == facts.facts.data();
        add_row(composer, cells,
                {.above = composer.dense ? 0.4 : 1.4,
                 .below = composer.dense ? 0.4 : 1.4,
                 .space_before = !first           ? 0.0
                                 : composer.dense ? 3.0
                                                  : 6.0,
                 .keep_with_next = &fact != &facts.facts.back() && (is_short || first || &fact + 2 == end)});
    }
}

}  // namespace tapwright::print
