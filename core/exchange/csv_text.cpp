#include "core/exchange/csv_text.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/exchange/job_csv.h"

namespace tapwright {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool ends_row(char c) {
    return c == '\n' || c == '\r';
}

// What the first row has most of; where two are even, the one that people type less.
char separator_of(std::string_view text) {
    constexpr char separators[] = {'\t', ';', ','};
    std::size_t counts[] = {0, 0, 0};
    bool is_quoted = false;
    for (const char c : text) {
        if (c == '"') is_quoted = !is_quoted;
        if (is_quoted) continue;
        if (ends_row(c)) break;
        for (std::size_t i = 0; i < std::size(separators); ++i) counts[i] += c == separators[i] ? 1 : 0;
    }
    const auto* const most = std::max_element(std::begin(counts), std::end(counts));
    return *most == 0 ? ',' : separators[most - std::begin(counts)];
}

std::size_t line_that_is_not_utf8(std::string_view text) {
    std::size_t line = 1;
    for (std::size_t at = 0; at < text.size(); ++line) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        if (!is_utf8(text.substr(at, end - at))) break;
        at = end + 1;
    }
    return line;
}

Refusal refused(Message place, Message problem) {
    return {placed(std::move(place), std::move(problem))};
}

class Rows {
public:
    explicit Rows(std::string_view text) : text_(text) { read_.separator = separator_of(text); }

    Result<CsvText> read() {
        while (at_ < text_.size()) {
            CsvRow row{line_, {}};
            TAPWRIGHT_PASS(take_row(row));
            const auto is_blank = [](const std::string& cell) { return cell.find_first_not_of(" \t") == cell.npos; };
            if (std::all_of(row.cells.begin(), row.cells.end(), is_blank)) continue;
            if (read_.rows.size() == most_csv_rows)
                return refused(csv_line(row.line),
                               Message("There are more than {most} rows. Split the file.", {{"most", most_csv_rows}}));
            read_.rows.push_back(std::move(row));
        }
        return std::move(read_);
    }

private:
    Result<void> take_row(CsvRow& row) {
        for (;;) {
            if (row.cells.size() == most_csv_cells)
                return refused(
                    csv_line(row.line),
                    Message("There are more than {most} cells in this row. Keep the columns that are needed.",
                            {{"most", most_csv_cells}}));
            std::string cell;
            TAPWRIGHT_PASS(take_cell(cell));
            row.cells.push_back(text_of_csv(cell));
            if (at_ == text_.size()) return done();
            const char c = text_[at_];
            take_break_or(c);
            if (c != read_.separator) return done();
        }
    }

    // A line break of any kind counts as one line; anything else is passed over.
    void take_break_or(char c) {
        ++at_;
        if (!ends_row(c)) return;
        if (c == '\r' && at_ < text_.size() && text_[at_] == '\n') ++at_;
        ++line_;
    }

    Result<void> take_cell(std::string& cell) {
        if (at_ < text_.size() && text_[at_] == '"') return take_quoted(cell);
        const std::size_t start = at_;
        while (at_ < text_.size() && text_[at_] != read_.separator && !ends_row(text_[at_])) ++at_;
        cell = text_.substr(start, at_ - start);
        return done();
    }

    Result<void> take_quoted(std::string& cell) {
        const std::size_t opened = line_;
        for (++at_; at_ < text_.size();) {
            const char c = text_[at_];
            if (ends_row(c)) {
                cell += '\n';
                take_break_or(c);
                continue;
            }
            ++at_;
            if (c != '"') {
                cell += c;
            } else if (at_ < text_.size() && text_[at_] == '"') {
                cell += '"';
                ++at_;
            } else {
                return after_quotes();
            }
        }
        return refused(csv_line(opened),
                       Message("A quotation mark is opened and not closed. Close it, or take it out."));
    }

    Result<void> after_quotes() const {
        if (at_ == text_.size() || text_[at_] == read_.separator || ends_row(text_[at_])) return done();
        return refused(csv_line(line_), Message("There is text behind a closing quotation mark. Write a quotation mark "
                                                "within quotes twice."));
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::size_t line_ = 1;
    CsvText read_;
};

}  // namespace

Message csv_line(std::size_t line) {
    return Message("Line {line}", {{"line", line}});
}

Result<CsvText> read_csv(std::string_view text) {
    if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
    if (!is_utf8(text))
        return refused(csv_line(line_that_is_not_utf8(text)),
                       Message("This is not UTF-8 text. Save the table as CSV in UTF-8."));
    return Rows(text).read();
}

}  // namespace tapwright
