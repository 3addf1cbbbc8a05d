// Prints what the program makes of a job: every sentence and every number, as JSON. Built for this machine and for
// WebAssembly, whose answers same_test.mjs holds against each other.
//
//   figures JOB.json JOB.tapjob      the second is made
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>

#include "core/exchange/job_json.h"
#include "core/job/json.h"
#include "core/plan/fit.h"
#include "core/session/session.h"
#include "core/words/fit_text.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"
#include "platform/cli/report.h"
#include "platform/sheets/sheets.h"

using namespace tapwright;

namespace {

constexpr std::size_t added = 4;
const Stamp moment{"2026-03-02T08:00:00Z", 1772438400000, 7919};

// What each reading means.
List readings_of(const Session& session, const Words& words) {
    List told;
    const auto readings = session.job().all<Reading>();
    for (std::uint32_t at = 0; at < readings.size(); ++at) {
        const Statement said = statement_of(session.job(), session.derived(), at);
        told.emplace_back(words.text(said.text));
        told.emplace_back(words.text(said.why));
    }
    return told;
}

// What room each zone has for some more of each type.
List fits_of(const Session& session, const Words& words) {
    List told;
    for (const Zone& zone : session.job().all<Zone>())
        for (const SpeakerType& type : session.job().all<SpeakerType>()) {
            FitRequest request;
            request.zone = zone.id;
            request.add = {FitAddition{.type = type.id, .count = added}};
            const Result<Fit> made = fit(session.job(), session.derived(), request);
            if (!made) {
                told.emplace_back(words.text(made.refusal().message));
                continue;
            }
            for (const Message& paragraph : paragraphs_of(session.job(), request, *made))
                told.emplace_back(words.text(paragraph));
            for (const FitOption& option : made->options)
                told.emplace_back(Map{{"load_w", option.load.value()}, {"worst_db", option.worst.value()}});
        }
    return told;
}

Result<List> sheets_of(const Session& session) {
    List told;
    for (const SheetReader reader : {SheetReader::owner, SheetReader::technician}) {
        SheetChoice choice;
        choice.reader = reader;
        const auto no_photo = [](const std::string&) { return std::nullopt; };
        TAPWRIGHT_TAKE(sheet, render_sheet(session, choice, no_photo, render_html, moment));
        told.emplace_back(sheet.bytes);
    }
    return told;
}

Result<void> print_figures(const std::string& file, const std::string& path) {
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    TAPWRIGHT_TAKE(job, read_job(text, file));
    const Command command{.changes = job.changes, .fill_in = false, .place = {}};
    TAPWRIGHT_TAKE(session, Session::create(path, command, {"Ada Quill", {}}, moment));
    TAPWRIGHT_TAKE(sheets, sheets_of(session));
    const Words words;
    const Map all{{"check", cli::check_json(session.job(), session.derived())},
                  {"text", cli::check_text(words, session.job(), session.derived(), true)},
                  {"readings", readings_of(session, words)},
                  {"fits", fits_of(session, words)},
                  {"sheets", sheets}};
    std::fputs(pretty_json(Value(all)).c_str(), stdout);
    return done();
}

}  // namespace

int main(int count, char** words) {
    if (count != 3) return 2;
    const Result<void> printed = print_figures(words[1], words[2]);
    if (!printed) std::fputs(in_english(printed.refusal()).c_str(), stderr);
    return printed ? 0 : 1;
}
