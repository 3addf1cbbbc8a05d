#include "platform/print/pdf.h"

#include "core/base/text.h"
#include "platform/print/compose.h"
#include "platform/print/finish.h"
#include "platform/print/fonts.h"
#include "platform/print/own_process.h"
#include "platform/print/paint.h"

namespace tapwright::print {
namespace {

Frame frame_of(document::Paper paper) {
    Frame frame;
    const bool a4 = paper == document::Paper::a4;
    frame.page_width = a4 ? 595.276 : 612;
    frame.page_height = a4 ? 841.89 : 792;
    frame.left = theme::margin_side;
    frame.top = theme::margin_top;
    frame.width = frame.page_width - 2 * theme::margin_side;
    return frame;
}

}  // namespace

Result<Pdf> render_pdf_here(const document::Document& document) {
    if (!document.created.empty() && pdf_date(document.created).empty())
        return Refusal{
            Message("The sheet's date {date} is not a time as in RFC 3339; write it as {example}.",
                    {{"date", entered(cited(document.created))}, {"example", code("2026-05-04T09:30:00Z")}})};
    const std::string language = document.language.empty() ? "en" : settable(document.language);
    const auto fonts = open_fonts(language);
    if (!fonts) return fonts.refusal();
    Typesetter type(*fonts, language);

    Frame frame = frame_of(document.paper);
    const auto footer = set_footer(type, document.footer, frame);
    if (!footer) return footer.refusal();
    frame.height = frame.page_height - frame.top - theme::margin_bottom - footer->height - theme::footer_gap;

    Structure structure;
    std::vector<std::string> sections;
    for (const document::Block& block : document.blocks)
        if (const auto* heading = std::get_if<document::Heading>(&block); heading && heading->level == 2)
            sections.push_back(heading->text);
    Composer composer{type, structure, document.words, sections, frame.width, frame.height};
    if (auto composed = compose(composer, document); !composed) return composed.refusal();
    std::vector<Page> pages = deal_out(composer.flow, frame);
    number_contents(pages, type);
    const auto painted = paint(pages, frame, *footer, type, structure, document.words);
    if (!painted) return painted.refusal();
    auto bytes = finish(*painted, structure, document);
    if (!bytes) return bytes.refusal();
    return Pdf{std::move(*bytes), static_cast<int>(pages.size())};
}

Result<Pdf> render_pdf(const document::Document& document) {
    return in_own_process([&document] { return render_pdf_here(document); });
}

}  // namespace tapwright::print
