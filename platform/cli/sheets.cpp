// sheet: the handover sheet as a file.
#include "core/base/text.h"
#include "core/exchange/sheet.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/print/pdf.h"
#include "platform/system/files.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {

Result<int> write_sheet(const Call& call) {
    const std::string& out = call.arguments[1];
    const std::string reader = call.option("--for", "technician");
    const std::string paper = call.option("--paper", "a4");
    if (reader != "owner" && reader != "technician")
        return Refusal{"--for " + cited(reader) + " must be owner or technician."};
    if (paper != "a4" && paper != "letter") return Refusal{"--paper " + cited(paper) + " must be a4 or letter."};
    if (!out.ends_with(".pdf")) return Refusal{out + " must end in .pdf."};
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    SheetOptions options;
    options.reader = reader == "owner" ? SheetReader::owner : SheetReader::technician;
    options.paper = paper == "a4" ? document::Paper::a4 : document::Paper::letter;
    options.time = make_stamp().time;
    const Result<print::Pdf> pdf = print::render_pdf(handover_sheet(session->job(), session->derived(), options));
    if (!pdf) return pdf.refusal();
    const Result<void> written = write_file(out, pdf->bytes);
    if (!written) return written.refusal();
    const std::string digest = hex(sha256(pdf->bytes));
    if (call.json())
        print(pretty_json(Map{{"pages", static_cast<double>(pdf->pages)}, {"sha256", digest}}));
    else
        print("Wrote " + out + ": " + counted(static_cast<std::size_t>(pdf->pages), "page") + ", SHA-256 " + digest +
              ".\n");
    return fine;
}

}  // namespace tapwright::cli
