// An outline made a document: every message becomes a text, all else stays as it is.
#include <algorithm>

#include "core/sheet/document.h"
#include "core/words/choices.h"
#include "core/words/isolate.h"

namespace tapwright::document {
namespace {

class Maker {
public:
    explicit Maker(const Words& words) : words_(words) {}

    std::string text(const Message& message) const { return text_with_isolates(words_, message); }
    // Of a cell, a fact or a line of a label: a choice that stands alone there is a title.
    std::string alone(const Message& message) const { return text(as_title(message)); }

    Block operator()(const outline::Heading& heading) const { return Heading{heading.level, text(heading.text)}; }
    Block operator()(const outline::Paragraph& paragraph) const {
        return Paragraph{text(paragraph.text), paragraph.tone};
    }
    Block operator()(const outline::Bullets& bullets) const { return Bullets{texts(bullets.items), bullets.numbered}; }
    Block operator()(const outline::Facts& facts) const {
        Facts made;
        for (const auto& fact : facts.facts) made.facts.push_back({text(fact.name), alone(fact.value), fact.large});
        return made;
    }
    Block operator()(const outline::Table& table) const { return (*this)(outline::Table(table)); }
    // Takes the rows one after the other.
    Block operator()(outline::Table&& table) const {
        Table made;
        made.caption = text(table.caption);
        for (const auto& column : table.columns)
            made.columns.push_back({text(column.title), column.align, column.weight});
        made.rows.reserve(table.rows.size());
        for (auto& row : table.rows) {
            auto& cells = made.rows.emplace_back();
            cells.reserve(row.size());
            for (const auto& cell : row) cells.push_back({alone(cell.text), cell.tone});
            row = {};
        }
        return made;
    }
    Block operator()(const outline::Figure& figure) const {
        Figure made;
        if (const auto* bar = std::get_if<outline::Bar>(&figure.content))
            made.content = in_words(*bar);
        else if (const auto* shades = std::get_if<outline::Shades>(&figure.content))
            made.content = in_words(*shades);
        else if (const auto* drawing = std::get_if<Drawing>(&figure.content))
            made.content = *drawing;
        else if (const auto* picture = std::get_if<Picture>(&figure.content))
            made.content = *picture;
        made.caption = text(figure.caption);
        made.alternative = text(figure.alternative);
        return made;
    }
    Block operator()(const outline::SignatureLine& line) const {
        return SignatureLine{text(line.role), text(line.name), text(line.date), line.strokes};
    }
    Block operator()(const PageBreak& page_break) const { return page_break; }
    Block operator()(const outline::Labels& labels) const {
        Labels made{labels.width, labels.height, {}};
        for (const auto& label : labels.labels) made.labels.push_back({text(label.name), alone(label.lines)});
        return made;
    }
    Block operator()(const Layout& layout) const { return layout; }
    Block operator()(const outline::Contents& contents) const {
        return Contents{text(contents.title), contents.on_paper};
    }

private:
    std::vector<std::string> texts(const std::vector<Message>& messages) const {
        std::vector<std::string> made;
        made.reserve(messages.size());
        for (const Message& message : messages) made.push_back(text(message));
        return made;
    }
    std::vector<std::string> alone(const std::vector<Message>& messages) const {
        std::vector<std::string> made;
        made.reserve(messages.size());
        for (const Message& message : messages) made.push_back(alone(message));
        return made;
    }
    Bar in_words(const outline::Bar& bar) const {
        Bar made;
        for (const auto& part : bar.parts) made.parts.push_back({part.amount, text(part.label), part.hatched});
        made.reserve_from = bar.reserve_from;
        made.limit = bar.limit;
        made.whole = bar.whole;
        return made;
    }
    Shades in_words(const outline::Shades& shades) const {
        Shades made{.length = shades.length,
                    .width = shades.width,
                    .columns = shades.columns,
                    .rows = shades.rows,
                    .cells = shades.cells,
                    .spots = shades.spots,
                    .key = {}};
        std::transform(shades.key.begin(), shades.key.end(), made.key.begin(),
                       [&](const Message& message) { return text(message); });
        return made;
    }

    const Words& words_;
};

}  // namespace

Block in_words(outline::Block&& block, const Words& words) {
    return std::visit(Maker(words), std::move(block));
}

Document in_words(const outline::Document& outline, const Words& words) {
    const Maker maker(words);
    Document made;
    made.title = maker.text(outline.title);
    made.language = words.language().code;
    made.author = maker.text(outline.author);
    made.created = outline.created;
    made.footer = maker.text(outline.footer);
    made.paper = outline.paper;
    made.words = words;
    made.blocks.reserve(outline.blocks.size());
    for (const outline::Block& block : outline.blocks) made.blocks.push_back(std::visit(maker, block));
    return made;
}

}  // namespace tapwright::document
