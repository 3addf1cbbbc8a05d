#include "core/html/html.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "core/base/text.h"
#include "core/html/escape.h"
#include "core/html/figures.h"
#include "core/html/kept.h"
#include "core/html/links.h"
#include "core/html/narrow.h"
#include "core/html/style.h"

namespace tapwright {
namespace {

using html::escaped;
using html::kept;

const char* tone_class(document::Tone tone) {
    switch (tone) {
        case document::Tone::plain:
            return "";
        case document::Tone::good:
            return "good";
        case document::Tone::note:
            return "note";
        case document::Tone::warning:
            return "warning";
        case document::Tone::stop:
            return "stop";
    }
    return "";
}

std::string class_attribute(const std::string& classes) {
    return classes.empty() ? "" : " class=\"" + classes + "\"";
}

// As a quoted string of CSS inside a style element.
std::string css_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '\n')
            out += "\\a ";
        else if (c == '"' || c == '\\' || c == '<' || c == '&')
            out += std::string("\\") + (c == '"' ? "22 " : c == '<' ? "3c " : c == '&' ? "26 " : "5c ");
        else if (static_cast<unsigned char>(c) >= 0x20)
            out += c;
    }
    return out + "\"";
}

// What only these labels need.
std::string style_of(const document::Labels& labels, int number) {
    const auto mm = [](double points) { return rounded(points * 25.4 / 72, 2) + "mm"; };
    return ".labels-" + std::to_string(number) + " > .label { width: " + mm(labels.width) +
           "; height: " + mm(labels.height) + "; }\n";
}

}  // namespace

class HtmlWriter::Page {
public:
    Page(const Words& words, const Out& out) : words_(words), out_(out) {}

    void head(const std::string& text) {
        written_ = text.size();
        out_(text);
    }

    std::string body;  // that was not handed on yet

    void operator()(const document::Heading& heading) {
        depth_ = std::min(heading.level, depth_ + 1);  // headings must not skip a level, even where the sheet does
        const std::string tag = "h" + std::to_string(depth_);
        std::string anchor;
        if (heading.level == 2) {
            sections_.push_back(heading.text);
            anchor = " id=\"s" + std::to_string(sections_.size()) + "\"";
        }
        body += "<" + tag + anchor + html::direction(heading.text) + ">" + kept(heading.text) + "</" + tag + ">\n";
    }
    void operator()(const document::Paragraph& paragraph) {
        body += "<p" + class_attribute(tone_class(paragraph.tone)) + html::direction(paragraph.text) + ">" +
                kept(paragraph.text) + "</p>\n";
    }
    void operator()(const document::Bullets& bullets) {
        if (bullets.items.empty()) return;
        const std::string tag = bullets.numbered ? "ol" : "ul";
        body += "<" + tag + ">\n";
        for (const std::string& item : bullets.items)
            body +=
                "<li" + html::direction(item) + ">" + (bullets.numbered ? html::linked(item) : kept(item)) + "</li>\n";
        body += "</" + tag + ">\n";
    }
    void operator()(const document::Facts& facts) {
        if (facts.facts.empty()) return;
        body += "<dl>\n";
        for (const auto& fact : facts.facts)
            body += "<dt>" + kept(fact.name) + "</dt><dd" + class_attribute(fact.large ? "large" : "") +
                    html::direction(fact.value) + ">" + (fact.large ? html::linked(fact.value) : kept(fact.value)) +
                    "</dd>\n";
        body += "</dl>\n";
    }
    void operator()(const document::Table& table) {
        if (table.columns.empty()) return;
        body += html::words_fit(table) ? "<table class=\"firm\">\n" : "<table>\n";
        if (!table.caption.empty())
            body += "<caption" + html::direction(table.caption) + ">" + kept(table.caption) + "</caption>\n";
        body += "<thead><tr>";
        for (const auto& column : table.columns)
            body += "<th scope=\"col\"" + class_attribute(align_class(column)) + ">" + kept(column.title) + "</th>";
        body += "</tr></thead>\n<tbody>\n";
        for (const auto& row : table.rows) {
            add_row(table, row);
            if (body.size() > enough) hand_on();
        }
        body += "</tbody>\n</table>\n";
    }
    void operator()(const document::Figure& figure) { body += html::figure(figure); }
    void operator()(const document::SignatureLine& signature) { body += html::signature(signature, words_); }
    void operator()(const document::PageBreak&) { body += "<hr class=\"page-break\">\n"; }
    void operator()(const document::Labels& labels) {
        body += "<div class=\"labels labels-" + std::to_string(++labels_) + "\">\n";
        for (const auto& label : labels.labels) {
            body += "<div class=\"label\"><strong" + html::direction(label.name) + ">" + kept(label.name) + "</strong>";
            for (const std::string& line : label.lines)
                if (!line.empty()) body += "<span" + html::direction(line) + ">" + kept(line) + "</span>";
            body += "</div>\n";
        }
        body += "</div>\n";
    }
    void operator()(const document::Layout& layout) {
        switch (layout) {
            case document::Layout::one_page:
                body += "<div class=\"one-page\">\n";
                ++open_;
                return;
            case document::Layout::compact:
                body += "<div class=\"compact\">\n";
                ++open_;
                return;
            case document::Layout::beside:
                body += "<div class=\"beside\"><div>\n";
                open_ += 2;
                return;
            case document::Layout::next_column:
                if (open_ > 0) body += "</div><div>\n";
                return;
            case document::Layout::end_beside:
                return close(2);
            case document::Layout::end_one_page:
            case document::Layout::end_compact:
                return close(1);
        }
    }
    void operator()(const document::Contents& contents) {
        hand_on();
        contents_ = {contents.title, written_, contents.on_paper};
    }

    // The way to the sections, and where in what was handed on it belongs; nothing for a page that is seen at a glance.
    HtmlWriter::Later contents() const {
        constexpr std::size_t least = 4;
        if (!contents_ || sections_.size() < least) return {};
        std::string text = "<nav class=\"contents" + std::string(contents_->on_paper ? "" : " screen") + "\"><p>" +
                           escaped(contents_->title) + "</p><ul>\n";
        for (std::size_t k = 0; k < sections_.size(); ++k)
            text += "<li><a href=\"#s" + std::to_string(k + 1) + "\"" + html::direction(sections_[k]) + ">" +
                    kept(sections_[k]) + "</a></li>\n";
        return {contents_->at, text + "</ul></nav>\n"};
    }
    // What a Layout opened and none closed.
    void close_all() { close(open_); }

    void hand_on() {
        written_ += body.size();
        out_(body);
        body.clear();
    }

private:
    static std::string align_class(const document::Column& column) {
        return column.align == document::Align::end ? "end" : "";
    }

    void add_row(const document::Table& table, const std::vector<document::Cell>& row) {
        body += "<tr>";
        for (std::size_t k = 0; k < row.size(); ++k) {
            const std::string text = kept(row[k].text);
            const std::string tone = tone_class(row[k].tone);
            std::string said = "<span";
            if (!tone.empty() && !text.empty()) said += " class=\"" + tone + "\"";
            said += html::direction(row[k].text) + ">" + text + "</span>";
            if (k == 0)
                body += "<th scope=\"row\">" + said + "</th>";
            else
                body += "<td" + class_attribute(align_class(table.columns[k])) + " data-title=\"" +
                        escaped(table.columns[k].title) + "\">" + (text.empty() ? "" : said) + "</td>";
        }
        body += "</tr>\n";
    }

    void close(int count) {
        for (; count > 0 && open_ > 0; --count, --open_) body += "</div>";
        body += "\n";
    }

    static constexpr std::size_t enough = std::size_t{1} << 16;  // of a table, to be handed on

    const Words words_;  // a copy: the head is gone when blocks come
    const Out& out_;
    struct Place {
        std::string title;
        std::size_t at;
        bool on_paper;
    };

    int depth_ = 0;
    int labels_ = 0;
    int open_ = 0;
    std::size_t written_ = 0;  // bytes handed on, the page's head among them
    std::vector<std::string> sections_;
    std::optional<Place> contents_;
};

HtmlWriter::HtmlWriter(const document::Document& head, Out out)
    : footer_(head.footer), out_(std::move(out)), page_(std::make_unique<Page>(head.words, out_)) {
    std::string style;
    int labels = 0;
    for (const document::Block& block : head.blocks)
        if (const auto* held = std::get_if<document::Labels>(&block)) style += style_of(*held, ++labels);
    const char* const paper = head.paper == document::Paper::a4 ? "A4" : "letter";
    std::string text = "<!DOCTYPE html>\n<html lang=\"" + escaped(head.language.empty() ? "en" : head.language) +
                       "\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, "
                       "initial-scale=1\">\n";
    if (!head.author.empty()) text += "<meta name=\"author\" content=\"" + escaped(head.author) + "\">\n";
    text += "<title>" + escaped(head.title) + "</title>\n<style>";
    text += html::style_sheet;
    text += "@page { size: " + std::string(paper) + "; margin: 12mm 13mm 17mm;\n" +
            "  @bottom-left { content: " + css_string(head.footer) +
            "; font: 8pt sans-serif; color: #566069; white-space: pre; }\n" +
            "  @bottom-right { content: counter(page) \" / \" counter(pages); font: 8pt sans-serif; " +
            "color: #566069; } }\n" + style + "</style>\n</head>\n<body>\n<main>\n";
    page_->head(text);
}

HtmlWriter::~HtmlWriter() = default;

void HtmlWriter::add(const document::Block& block) {
    std::visit(*page_, block);
    page_->hand_on();
}

HtmlWriter::Later HtmlWriter::finish() {
    page_->close_all();
    std::string text = std::exchange(page_->body, {}) + "</main>\n";
    if (!footer_.empty()) text += "<footer>" + escaped(footer_) + "</footer>\n";
    out_(text + "</body>\n</html>\n");
    return page_->contents();
}

std::string html_page(const document::Document& document) {
    std::string text;
    HtmlWriter writer(document, [&](std::string_view part) { text += part; });
    for (const document::Block& block : document.blocks) writer.add(block);
    const HtmlWriter::Later later = writer.finish();
    text.insert(later.at, later.text);
    return text;
}

}  // namespace tapwright
