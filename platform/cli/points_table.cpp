#include "platform/cli/points_table.h"

#include <algorithm>
#include <map>
#include <set>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/relations.h"
#include "core/units/parse.h"
#include "core/words/choices.h"
#include "platform/cli/command.h"
#include "platform/cli/points_cells.h"

namespace tapwright::cli {
namespace {

constexpr std::string_view worked_out[] = {"found_w", "found_by"};

class Reader {
public:
    Reader(const Job& job, const CsvText& table, const Words& words, IdMaker& ids)
        : job_(job), after_(job), table_(table), words_(words), ids_(ids), lengths_(length_units(job)) {}

    PointsTable read() {
        take_header();
        rows_ = std::span(table_.rows).subspan(1);
        if (rows_.empty())
            problem(table_.rows.front().line, {}, Message("There is no point below the first row. Add one a line."));
        comma_is_decimal_ = cells_have_decimal_commas();
        make_points();
        if (is_headed_) take_cells();
        check_relations();
        std::stable_sort(made_.problems.begin(), made_.problems.end(),
                         [](const TableProblem& a, const TableProblem& b) { return a.line < b.line; });
        return std::move(made_);
    }

private:
    void problem(std::size_t line, const Message& column, Message text) {
        made_.problems.push_back({line, placed(place_in_table(line, column), std::move(text))});
    }

    static Message place_in_table(std::size_t line, const Message& column) {
        return column.empty() ? csv_line(line) : Message("Line {line}, {column}", {{"line", line}, {"column", column}});
    }

    // ---- the first row ----

    void take_header() {
        const CsvRow& header = table_.rows.front();
        for (const FieldInfo& field : fields(Kind::point)) made_.places.push_back(title_of(field));
        for (const std::string& cell : header.cells) {
            PointColumn column = column_named(cell, words_, lengths_);
            if (column.holds == PointColumn::Holds::unknown) {
                is_headed_ = false;
                problem(header.line, shown(cell), sentences({Message("A point has no such field."), meant(cell)}));
            } else if (column.holds != PointColumn::Holds::nothing) {
                note_column(column, cell, header.line);
            }
            columns_.push_back(column);
        }
        for (const std::string_view needed : {"kind", "label"}) need_column(needed, header.line);
        if (is_headed_) return;
        std::vector<Code> keys;
        for (const FieldInfo& field : fields(Kind::point))
            if (!is_worked_out(field)) keys.push_back(code(field.name));
        made_.remedy = Message("The first row names the fields: {fields}. Rename or remove every other column.",
                               {{"fields", series(keys)}});
    }

    void note_column(PointColumn& column, const std::string& cell, std::size_t line) {
        const std::string_view key = column.field ? column.field->name : "id";
        if (!named_.insert(key).second) {
            is_headed_ = false;
            return problem(line, shown(cell), Message("This column is there twice. Keep one."));
        }
        if (!column.field) return;
        made_.places[number_of(*column.field)] = shown(cell);
        if (!is_worked_out(*column.field)) return;
        column.holds = PointColumn::Holds::nothing;
        column.is_left_out = true;
        made_.left_out.push_back(shown(cell));
    }

    void need_column(std::string_view key, std::size_t line) {
        if (named_.contains(key)) return;
        const FieldInfo& field = *find_field(Kind::point, key);
        lacking_.insert(key);
        problem(line, title_of(field),
                Message("There is no column {key}, and every point needs it. Add the column.", {{"key", code(key)}}));
    }

    Message meant(const std::string& cell) const {
        std::vector<std::string> known;
        for (const FieldInfo& field : fields(Kind::point)) {
            known.emplace_back(field.name);
            if (std::string title = words_.text(title_of(field)); in_small_letters(title) != field.name)
                known.push_back(std::move(title));
        }
        return did_you_mean(cell, known);
    }

    static bool is_worked_out(const FieldInfo& field) {
        return std::find(std::begin(worked_out), std::end(worked_out), field.name) != std::end(worked_out);
    }
    static std::size_t number_of(const FieldInfo& field) {
        return static_cast<std::size_t>(&field - fields(Kind::point).data());
    }
    static Entered shown(const std::string& cell) { return entered(cited(trimmed(cell), 40)); }

    // ---- which mark is the decimal one ----

    // Semicolons stand where the comma is decimal. A table that was copied has tabs in every language: there one figure
    // with a comma that can be nothing else tells.
    bool cells_have_decimal_commas() const {
        if (table_.separator == ';') return true;
        if (table_.separator != '\t') return false;
        for (const CsvRow& row : rows_)
            for (std::size_t i = 0; i < std::min(row.cells.size(), columns_.size()); ++i)
                if (columns_[i].is_figure() && has_certain_decimal_comma(row.cells[i])) return true;
        return false;
    }

    // ---- the points ----

    // All of them with their labels first, so that a row can name one further down.
    void make_points() {
        for (const Point& point : job_.all<Point>())
            if (point.label) labels_.emplace(in_small_letters(*point.label), 0);
        for (std::size_t i = 0; i < rows_.size(); ++i) {
            const Id id = take_id(rows_[i]);
            after_.make(Kind::point, id, {INT64_MAX, UINT64_MAX, UINT32_MAX, static_cast<std::uint32_t>(i)});
            made_.changes.push_back({ChangeOp::add, Kind::point, id, {}});
            made_.lines.push_back(rows_[i].line);
            by_id_.emplace(id.text(), i);
            take_label(rows_[i], i);
        }
    }

    Id take_id(const CsvRow& row) {
        for (std::size_t i = 0; i < std::min(row.cells.size(), columns_.size()); ++i) {
            const std::string text(trimmed(row.cells[i]));
            if (columns_[i].holds != PointColumn::Holds::id || text.empty()) continue;
            const Message column = shown(table_.rows.front().cells[i]);
            if (!Id::is_valid(text))
                problem(row.line, column, no_id(text).message);
            else if (after_.kind_of(Id(text)) && !is_label_used(row))
                problem(row.line, column,
                        Message("{id} is the id of another record. Every id must be unique; change it, or leave it out "
                                "to get a new one.",
                                {{"id", code(text)}}));
            else if (!after_.kind_of(Id(text)))
                return Id(text);
        }
        for (;;)
            if (Id made = ids_.make(Kind::point); !after_.kind_of(made)) return made;
    }

    // Then it is the label that is told.
    bool is_label_used(const CsvRow& row) const {
        const std::string* cell = cell_of(row, *find_field(Kind::point, "label"));
        return cell && labels_.contains(in_small_letters(trimmed(*cell)));
    }

    void take_label(const CsvRow& row, std::size_t number) {
        const FieldInfo& field = *find_field(Kind::point, "label");
        const std::string* cell = cell_of(row, field);
        if (!cell) return;
        const Result<Value> label = value_from_text(field, *cell);
        if (!label) return refuse(number, field, label.refusal().message);
        if (label->is_null()) return;
        const auto [known, is_new] = labels_.emplace(in_small_letters(*label->text()), row.line);
        if (!is_new) return refuse(number, field, problem_of_label(*label->text(), known->second));
        keep(number, field, *label);
    }

    // `line`: of the other one; 0 where the job holds it.
    static Message problem_of_label(const std::string& label, std::size_t line) {
        const Entered name = entered(cited(label));
        if (line != 0)
            return Message("{label} is on line {line} already. Give one of them another label.",
                           {{"label", name}, {"line", line}});
        return Message("This job has a point {label} already. Give this one another label, or remove the line.",
                       {{"label", name}});
    }

    const std::string* cell_of(const CsvRow& row, const FieldInfo& field) const {
        for (std::size_t i = 0; i < std::min(row.cells.size(), columns_.size()); ++i)
            if (columns_[i].holds == PointColumn::Holds::field && columns_[i].field == &field) return &row.cells[i];
        return nullptr;
    }

    // ---- everything else ----

    void take_cells() {
        const NameIndex names(after_labelled_ = after_);
        const PointCells cells{after_labelled_, names, words_, comma_is_decimal_};
        for (std::size_t number = 0; number < rows_.size(); ++number) {
            const CsvRow& row = rows_[number];
            if (!fits_header(row)) {
                misshapen_.insert(number);
                continue;
            }
            // Spreadsheets end rows with empty cells, beyond the last column.
            for (std::size_t i = 0; i < std::min(row.cells.size(), columns_.size()); ++i) {
                if (columns_[i].holds != PointColumn::Holds::field || columns_[i].field->name == "label") continue;
                const FieldInfo& field = *columns_[i].field;
                const Result<Value> value = cells.value(columns_[i], row.cells[i]);
                if (!value)
                    refuse(number, field, value.refusal().message);
                else if (!value->is_null())
                    keep(number, field, *value);
            }
        }
    }

    // Whether every cell with text has a named column above it.
    bool fits_header(const CsvRow& row) {
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            if (trimmed(row.cells[i]).empty()) continue;
            if (i >= columns_.size()) {
                problem(row.line, {}, too_many_cells(row.cells.size()));
                return false;
            }
            if (columns_[i].holds != PointColumn::Holds::nothing || columns_[i].is_left_out) continue;
            problem(row.line, {},
                    Message("Column {number} has no name in the first row. Name the field, or empty it.",
                            {{"number", i + 1}}));
            return false;
        }
        return true;
    }

    Message too_many_cells(std::size_t count) const {
        const std::vector<Named> counts{
            {"cells", count}, {"columns", columns_.size()}, {"separator", entered(std::string(1, table_.separator))}};
        if (table_.separator == '\t')
            return Message(
                Pattern("There are {cells} cells, but the first row names {columns} columns. Name the field of "
                        "every column."),
                counts);
        return Message(Pattern("There are {cells} cells, but the first row names {columns} columns. Put a text with "
                               "{separator} in it into quotation marks."),
                       counts);
    }

    void keep(std::size_t number, const FieldInfo& field, const Value& value) {
        Change& change = made_.changes[number];
        if (const Result<void> taken = after_.set(Kind::point, change.id, field, value); !taken)
            return refuse(number, field, taken.refusal().message);
        change.fields.emplace_back(field.name, value);
    }

    void refuse(std::size_t number, const FieldInfo& field, Message text) {
        refused_.emplace(number, field.name);
        problem(made_.lines[number], made_.places[number_of(field)], std::move(text));
    }

    // What the new points would break. What a refusal above leads to is not said again.
    void check_relations() {
        if (!is_headed_) return;
        for (const BrokenRelation& broken : broken_relations(after_)) {
            const auto found = by_id_.find(broken.id.text());
            if (found == by_id_.end() || misshapen_.contains(found->second)) continue;
            const FieldInfo* field = find_field(Kind::point, broken.field);
            if (!field || lacking_.contains(field->name) || refused_.contains({found->second, field->name})) continue;
            if (field->name == "type" && !after_.find<Point>(broken.id)->kind) continue;
            refuse(found->second, *field, message_of(after_, broken));
        }
    }

    const Job& job_;
    Job after_;           // with the new points, as far as they can be taken
    Job after_labelled_;  // the same with their labels alone
    const CsvText& table_;
    const Words& words_;
    IdMaker& ids_;
    LengthUnits lengths_;
    std::span<const CsvRow> rows_;
    std::vector<PointColumn> columns_;
    std::set<std::string_view> named_;    // keys of the columns
    std::set<std::string_view> lacking_;  // keys of columns that every table needs and this has not
    bool is_headed_ = true;               // whether the first row can be understood
    bool comma_is_decimal_ = false;
    std::map<std::string, std::size_t> labels_;  // in small letters; the line, or 0 of a point of the job
    std::map<std::string, std::size_t> by_id_;
    std::set<std::pair<std::size_t, std::string_view>> refused_;
    std::set<std::size_t> misshapen_;
    PointsTable made_;
};

}  // namespace

Message PointsTable::place_of(std::size_t change, std::string_view field) const {
    const std::span<const FieldInfo> known = fields(Kind::point);
    for (std::size_t i = 0; i < known.size(); ++i)
        if (known[i].name == field)
            return Message("Line {line}, {column}", {{"line", lines[change]}, {"column", places[i]}});
    return field == "id" ? Message("Line {line}, {column}", {{"line", lines[change]}, {"column", code(field)}})
                         : csv_line(lines[change]);
}

Result<PointsTable> read_points(const Job& job, std::string_view text, const Words& words, IdMaker& ids) {
    TAPWRIGHT_TAKE(table, read_csv(text));
    if (table.rows.empty())
        return Refusal{
            Message("There is nothing in it. The first row names fields, such as {example}; every other row "
                    "is a point.",
                    {{"example", code("label, kind, type, tap_w, fed_from")}})};
    return Reader(job, table, words, ids).read();
}

}  // namespace tapwright::cli
