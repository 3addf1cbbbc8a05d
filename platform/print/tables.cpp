#include <algorithm>
#include <cmath>
#include <limits>

#include "core/base/ensure.h"
#include "platform/print/columns.h"
#include "platform/print/compose.h"

namespace tapwright::print {
namespace {

// Between columns: a wide table needs the room for its words.
double gap_of(const document::Table& table) {
    return table.columns.size() > 8 ? 7 : 10;
}

// The sizes a table tries.
struct TableStyle {
    Style header;
    Style first;
    Style cell;
    Style strong;
    double cost = 1;  // so many times fewer lines are what a smaller size has to lead to, being harder to read
};
constexpr TableStyle table_style(double size, double cost) {
    return {{size - 0.8, 600, 1.25}, {size, 500, 1.32}, {size, 400, 1.32}, {size, 600, 1.32}, cost};
}
constexpr TableStyle table_styles[] = {table_style(8.8, 1), table_style(8.0, 1.15), table_style(7.2, 1.25)};

bool heavy(document::Tone tone) {
    return tone == document::Tone::warning || tone == document::Tone::stop;
}

double indent_of(document::Tone tone) {
    return tone == document::Tone::plain ? 0 : theme::tone_indent;
}

const Style& style_of(const TableStyle& style, std::size_t column, document::Tone tone) {
    if (heavy(tone)) return style.strong;
    return column == 0 ? style.first : style.cell;
}

// What a column asks for. Only cells that would not fit easily are looked at word by word.
struct Measure {
    ColumnDemand demand;
    double longest_easy;

    void take(const Text& text, double indent, bool whole) {
        const double natural = text.width() + indent;
        demand.natural = std::max(demand.natural, natural);
        if (natural <= demand.word) return;
        const double word = std::min(text.widest_word() + indent, natural);
        demand.word = std::max(demand.word, word);
        demand.easy = std::max({demand.easy, word, whole ? natural : std::min(natural, longest_easy)});
    }
};

std::vector<ColumnDemand> measure(Composer& composer, const document::Table& table, const TableStyle& style) {
    std::vector<ColumnDemand> demands;
    const double fair = composer.width / static_cast<double>(table.columns.size());
    for (std::size_t column = 0; column < table.columns.size(); ++column) {
        const document::Column& title = table.columns[column];
        Measure measure{{.weight = title.weight}, std::min(fair, 72.0)};
        measure.take(*composer.type.set(title.title, style.header), 0, false);
        const bool number = title.align == document::Align::end;
        for (const auto& row : table.rows) {
            const document::Cell& cell = row[column];
            const SharedText text = composer.type.set(cell.text, style_of(style, column, cell.tone));
            measure.take(*text, indent_of(cell.tone), number && text->width() < composer.width / 5);
        }
        ColumnDemand& demand = measure.demand;
        demand.word = std::min(demand.word, std::max(fair * 1.6, composer.width * 0.3));
        demand.easy = std::max(demand.word, std::min(demand.easy, composer.width * 0.4));
        demands.push_back(demand);
    }
    return demands;
}

double sum_of(const std::vector<ColumnDemand>& demands, double ColumnDemand::*need) {
    double sum = 0;
    for (const ColumnDemand& demand : demands) sum += demand.*need;
    return sum;
}

bool all_fit(const std::vector<ColumnDemand>& demands, double room) {
    return sum_of(demands, &ColumnDemand::natural) <= room;
}

// What breaking in bad places costs, against a table of the same height without.
double strain(const std::vector<ColumnDemand>& demands, double room) {
    if (sum_of(demands, &ColumnDemand::word) > room) return 1;
    return sum_of(demands, &ColumnDemand::easy) > room ? 0.5 : 0;
}

// About how many lines the rows take, the white between rows counted as half a line.
double lines_of(Composer& composer, const document::Table& table, const TableStyle& style,
                const std::vector<double>& widths) {
    double all = 0;
    for (const auto& row : table.rows) {
        double lines = 1;
        for (std::size_t k = 0; k < row.size(); ++k) {
            const SharedText text = composer.type.set(row[k].text, style_of(style, k, row[k].tone));
            const double within = std::max(widths[k] - indent_of(row[k].tone), 1.0);
            lines = std::max({lines, static_cast<double>(text->line_count()), std::ceil(text->width() / within)});
        }
        all += lines + 0.5;
    }
    return all;
}

struct Grid {
    TableStyle style;
    std::vector<double> left;
    std::vector<double> width;
};

Grid plan(Composer& composer, const document::Table& table) {
    const double available = composer.width - gap_of(table) * static_cast<double>(table.columns.size() - 1);
    // A table of very many columns gets narrow gaps rather than columns without width.
    const double room = std::max(available, composer.width * 0.6);
    const double between =
        table.columns.size() < 2 ? 0 : (composer.width - room) / static_cast<double>(table.columns.size() - 1);
    Grid grid;
    double least = std::numeric_limits<double>::infinity();
    for (const TableStyle& style : table_styles) {
        const std::vector<ColumnDemand> demands = measure(composer, table, style);
        std::vector<double> widths = column_widths(demands, room);
        // A page that everything has to fit on is scaled as a whole already.
        const double harder = composer.dense && style.cost > 1 ? 2 * style.cost : style.cost;
        const double cost = lines_of(composer, table, style, widths) * (harder + 2 * strain(demands, room));
        if (cost >= least) continue;
        least = cost;
        grid.style = style;
        grid.width = std::move(widths);
        if (all_fit(demands, room)) break;  // a smaller size would gain nothing
    }
    double x = 0;
    for (const double width : grid.width) {
        grid.left.push_back(x);
        x += width + between;
    }
    return grid;
}

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
             .space_before = captioned ? 0.0 : 10.0,
             .keep_with_next = !table.rows.empty()});
    if (composer.flow.strips.size() != first + 1) return -1;
    const Strip& strip = composer.flow.strips.back();
    Head head{strip.height, strip.shapes, strip.items};
    for (Item& item : head.items) item.element = -1;
    if (captioned) {
        const SharedText again = composer.type.set(table.caption + " (continued)", theme::caption);
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
    const double padding = composer.dense ? 1.4 : 3.2;
    add_row(composer, cells,
            {.above = padding,
             .below = padding,
             .rule = 0.4,
             .head = head,
             .keep_with_next = number + 2 == table.rows.size()});
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
    double height = 0;
    std::size_t lines = 1;
    for (const CellBox& cell : cells) {
        height = std::max(height, cell.text->height());
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
            put_cell(strip, cell, tall ? k : 0, tall ? k + 1 : cell.text->line_count(), above);
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
                             .space_before = composer.dense ? 9.0 : 12.0,
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
    for (const auto& fact : facts.facts) names = std::max(names, composer.type.set(fact.name, theme::body)->width());
    names = std::min(names, composer.width * 0.34);
    const double left = names + 18;
    const double width = composer.width - left;
    const int table = composer.structure.add(Role::table);
    for (const auto& fact : facts.facts) {
        const int row = composer.structure.add(Role::row, table);
        std::vector<CellBox> cells;
        cells.push_back({.text = fitted(composer, fact.name, theme::body, names),
                         .width = names,
                         .colour = theme::quiet,
                         .element = composer.structure.add(Role::row_header, row)});
        cells.push_back({.text = fitted(composer, fact.value, theme::body_strong, width),
                         .x = left,
                         .width = width,
                         .element = composer.structure.add(Role::cell, row)});
        const bool first = &fact == facts.facts.data();
        add_row(composer, cells,
                {.above = composer.dense ? 0.4 : 1.4,
                 .below = composer.dense ? 0.4 : 1.4,
                 .space_before = first ? 6.0 : 0.0,
                 .keep_with_next = first && facts.facts.size() > 1});
    }
}

}  // namespace tapwright::print
