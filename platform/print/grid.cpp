#include "platform/print/grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "platform/print/columns.h"

namespace tapwright::print {
namespace {

// Between columns: a wide table needs the room for its words.
double gap_of(const Composer& composer, const document::Table& table) {
    return composer.dense || table.columns.size() > 8 ? 7 : 10;
}

constexpr TableStyle table_style(double size, double cost) {
    return {{size > 8.5 ? size : size - 0.4, 600, 1.2}, {size, 500, 1.28}, {size, 400, 1.28}, {size, 600, 1.28}, cost};
}
constexpr TableStyle table_styles[] = {table_style(9, 1), table_style(8.0, 1.15), table_style(7.2, 1.25)};

bool heavy(document::Tone tone) {
    return tone == document::Tone::warning || tone == document::Tone::stop;
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

using Rows = std::span<const std::vector<document::Cell>>;

// The size is chosen by so many of the rows: a schedule's are alike, and setting each of them at each size takes time.
constexpr std::size_t rows_to_choose_by = 40;

std::vector<ColumnDemand> measure(Composer& composer, const document::Table& table, Rows rows,
                                  const TableStyle& style) {
    std::vector<ColumnDemand> demands;
    const double fair = composer.width / static_cast<double>(table.columns.size());
    for (std::size_t column = 0; column < table.columns.size(); ++column) {
        const document::Column& title = table.columns[column];
        Measure measure{{.weight = title.weight}, std::min(fair, 72.0)};
        measure.take(*composer.type.set(title.title, style.header), 0, false);
        const bool number = title.align == document::Align::end;
        for (const auto& row : rows) {
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
double lines_of(Composer& composer, Rows rows, const TableStyle& style, const std::vector<double>& widths) {
    double all = 0;
    for (const auto& row : rows) {
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

TableStyle choose_style(Composer& composer, const document::Table& table, double room) {
    const Rows rows = Rows(table.rows).first(std::min(table.rows.size(), rows_to_choose_by));
    const bool is_compact = composer.dense && !composer.in_full_size;
    const auto styles = std::span(table_styles).subspan(is_compact ? 1 : 0);
    TableStyle chosen = styles.front();
    double least = std::numeric_limits<double>::infinity();
    for (const TableStyle& style : styles) {
        const std::vector<ColumnDemand> demands = measure(composer, table, rows, style);
        const double lines = lines_of(composer, rows, style, column_widths(demands, room));
        const double cost = lines * (style.cost + 2 * strain(demands, room));
        if (cost >= least) continue;
        least = cost;
        chosen = style;
        if (all_fit(demands, room) || composer.in_full_size) break;  // a smaller size would gain nothing
    }
    return chosen;
}

}  // namespace

double indent_of(document::Tone tone) {
    return tone == document::Tone::plain ? 0 : theme::tone_indent;
}

const Style& style_of(const TableStyle& style, std::size_t column, document::Tone tone) {
    if (heavy(tone)) return style.strong;
    return column == 0 ? style.first : style.cell;
}

Grid plan(Composer& composer, const document::Table& table) {
    const double available = composer.width - gap_of(composer, table) * static_cast<double>(table.columns.size() - 1);
    // A table of very many columns gets narrow gaps rather than columns without width.
    const double room = std::max(available, composer.width * 0.6);
    const double between =
        table.columns.size() < 2 ? 0 : (composer.width - room) / static_cast<double>(table.columns.size() - 1);
    Grid grid;
    grid.style = choose_style(composer, table, room);
    grid.width = column_widths(measure(composer, table, table.rows, grid.style), room);
    double x = 0;
    for (const double width : grid.width) {
        grid.left.push_back(x);
        x += width + between;
    }
    return grid;
}

}  // namespace tapwright::print
