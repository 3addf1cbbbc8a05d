// sheet, labels: what is handed over on paper or as a page.
#include "core/base/text.h"
#include "core/html/html.h"
#include "core/job/json.h"
#include "core/sheet/labels.h"
#include "platform/cli/command.h"
#include "platform/handover/handover.h"
#include "platform/print/pdf.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

Result<document::Paper> paper_of(const Call& call) {
    const std::string paper = call.option("--paper", "a4");
    if (paper != "a4" && paper != "letter") return none_of("--paper", paper, {"a4", "letter"});
    return paper == "a4" ? document::Paper::a4 : document::Paper::letter;
}

// A page where it goes to standard output: that is text.
Result<SheetMedium> medium_of(const std::string& out) {
    if (is_standard(out)) return SheetMedium::html;
    if (has_ending(out, ".pdf")) return SheetMedium::pdf;
    if (has_ending(out, ".html")) return SheetMedium::html;
    return Refusal{
        Message("{file} is neither a PDF nor a page. Let its name end in .pdf or .html.", {{"file", code(out)}})};
}

void report(const Call& call, const std::string& out, const MadeSheet& sheet, bool recorded) {
    const std::string digest = hex(sheet.sha256);
    if (call.json()) {
        print(pretty_json(Map{{"pages", static_cast<double>(sheet.pages)},
                              {"sha256", digest},
                              {"state", hex(sheet.state.hash)},
                              {"code", short_code(sheet.state.hash)},
                              {"position", static_cast<double>(sheet.state.position)},
                              {"recorded", recorded},
                              {"photos_missing", static_cast<double>(sheet.missing_photos)}}));
        return;
    }
    const std::vector<Named> named{{"file", code(out)},
                                   {"code", code(short_code(sheet.state.hash))},
                                   {"position", sheet.state.position},
                                   {"hash", code(digest)}};
    print_line(call.words,
               sheet.pages > 0
                   ? plural("Wrote {file}: {count} page, code {code}, after change {position}, SHA-256 {hash}.",
                            "Wrote {file}: {count} pages, code {code}, after change {position}, SHA-256 {hash}.",
                            sheet.pages, named)
                   : Message(Pattern("Wrote {file}: code {code}, after change {position}, SHA-256 {hash}."), named));
    if (sheet.missing_photos > 0)
        print_line(call.words, plural("{count} photo is not shown: its picture is missing or cannot be shown.",
                                      "{count} photos are not shown: their pictures are missing or cannot be shown.",
                                      static_cast<std::int64_t>(sheet.missing_photos)));
    if (!recorded)
        print_line(call.words, Message("The job file is read-only, so it does not record that this sheet was made."));
}

}  // namespace

Result<int> write_sheet(const Call& call) {
    const std::string& out = call.arguments[1];
    const std::string reader = call.option("--for", "technician");
    if (reader != "owner" && reader != "technician") return none_of("--for", reader, {"owner", "technician"});
    const Result<document::Paper> paper = paper_of(call);
    if (!paper) return paper.refusal();
    const Result<SheetMedium> medium = medium_of(out);
    if (!medium) return medium.refusal();
    TAPWRIGHT_PASS(check_output(call, out));
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    const Result<Author> author = author_for(call, *session);
    if (!author) return author.refusal();
    const Stamp stamp = make_stamp();
    const SheetRequest request{reader == "owner" ? SheetReader::owner : SheetReader::technician, *paper, *medium};
    const Result<MadeSheet> sheet = make_sheet(*session, request, stamp);
    if (!sheet) return sheet.refusal();
    TAPWRIGHT_PASS(write_output(call, out, sheet->bytes));
    const Result<bool> recorded = record_sheet(*session, *sheet, *author, stamp);
    if (!recorded) {
        complain(call.words, call.json(),
                 Refusal{Message("{file} was written, but the job does not record it. {why}",
                                 {{"file", is_standard(out) ? Argument(Message("The sheet")) : Argument(code(out))},
                                  {"why", recorded.refusal().message}})});
        return kept_untold;
    }
    if (!is_standard(out)) report(call, out, *sheet, *recorded);
    return fine;
}

Result<int> write_labels(const Call& call) {
    const std::string& out = call.arguments[1];
    const Result<document::Paper> paper = paper_of(call);
    if (!paper) return paper.refusal();
    const Result<SheetMedium> medium = medium_of(out);
    if (!medium) return medium.refusal();
    TAPWRIGHT_PASS(check_output(call, out));
    const Result<LabelSize> size = label_size_from(call.option("--size", "medium"));
    if (!size) return size.refusal();
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    std::string zone;
    if (call.has("--zone")) {
        TAPWRIGHT_TAKE(named, zone_of_option(session->job(), call));
        zone = named.text();
    }
    const document::Document sheet = label_sheet(
        session->job(), session->derived(), {*size, *paper, make_stamp().time, zone}, call.words_for(session->job()));
    std::string bytes;
    if (*medium == SheetMedium::html) {
        bytes = html_page(sheet);
    } else {
        Result<print::Pdf> pdf = print::render_pdf(sheet);
        if (!pdf) return pdf.refusal();
        bytes = std::move(pdf->bytes);
    }
    TAPWRIGHT_PASS(write_output(call, out, bytes));
    if (is_standard(out)) return fine;
    std::size_t labels = 0;
    for (const document::Block& block : sheet.blocks)
        if (const auto* held = std::get_if<document::Labels>(&block)) labels += held->labels.size();
    if (call.json())
        print(pretty_json(Map{{"labels", static_cast<double>(labels)}, {"sha256", hex(sha256(bytes))}}));
    else
        print_line(call.words, plural("Wrote {file}: {count} label.", "Wrote {file}: {count} labels.",
                                      static_cast<std::int64_t>(labels), {{"file", code(out)}}));
    return fine;
}

}  // namespace tapwright::cli
