#include "platform/handover/handover.h"

#include "core/html/html.h"
#include "platform/photos/photos.h"
#include "platform/print/pdf.h"

namespace tapwright {
namespace {

constexpr int picture_side = 640;  // half a page wide at about 200 pixels an inch

std::optional<document::Picture> reduced_picture(const std::string& copy) {
    Result<photos::Jpeg> small = photos::reduced(copy, picture_side);
    if (!small) return std::nullopt;
    return document::Picture{std::move(small->bytes), small->width, small->height, std::nullopt};
}

// A RenderSheet.
Result<void> print_pdf(const Session& session, const SheetOptions& options, const Words& words, MadeSheet& made) {
    const document::Document document = handover_sheet(session.job(), session.derived(), options, words);
    Result<print::Pdf> pdf = print::render_pdf(document);
    if (!pdf) return pdf.refusal();
    made.bytes = std::move(pdf->bytes);
    made.pages = pdf->pages;
    return done();
}

}  // namespace

Result<MadeSheet> make_sheet(const Session& session, const SheetRequest& request, const Stamp& stamp) {
    const SheetChoice choice{request.reader, request.paper, request.words};
    return render_sheet(session, choice, reduced_picture, request.medium == SheetMedium::pdf ? print_pdf : render_html,
                        stamp);
}

Result<std::string> make_labels(const Session& session, SheetMedium medium, const Words& words, const Stamp& stamp) {
    const document::Document labels = labels_of(session, words, stamp);
    if (medium == SheetMedium::html) return html_page(labels);
    Result<print::Pdf> pdf = print::render_pdf(labels);
    if (!pdf) return pdf.refusal();
    return std::move(pdf->bytes);
}

}  // namespace tapwright
