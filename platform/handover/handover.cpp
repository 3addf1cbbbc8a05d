#include "platform/handover/handover.h"

#include <algorithm>
#include <map>

#include "core/html/html.h"
#include "core/job/field_text.h"
#include "core/session/changes.h"
#include "core/session/visit_changes.h"
#include "platform/photos/photos.h"
#include "platform/print/pdf.h"

namespace tapwright {
namespace {

constexpr int picture_side = 640;  // half a page wide at about 200 pixels an inch

const Visit* last_handover(const Job& job) {
    const Visit* last = nullptr;
    for (const Visit& visit : job.all<Visit>())
        if (visit.purpose == Purpose::handover && visit.date && (!last || *visit.date >= *last->date)) last = &visit;
    return last;
}

// One batch of the log.
struct Step {
    BatchAddress address;
    std::optional<BatchAddress> undoes;
    std::string day;
    bool is_nothing;  // taken back since, or the taking back
};

// What was done and taken back again since is no change; taking back something older is one.
template <class IsSince>
void cancel_what_was_taken_back(std::vector<Step>& steps, const IsSince& is_since) {
    std::map<BatchAddress, std::size_t> places;
    for (std::size_t at = 0; at < steps.size(); ++at) places.emplace(steps[at].address, at);
    // From the end: a taking back that was taken back itself (a redo) takes nothing back any more.
    for (std::size_t at = steps.size(); at-- > 0;) {
        if (steps[at].is_nothing || !steps[at].undoes || !is_since(at)) continue;
        const auto undone = places.find(*steps[at].undoes);
        if (undone == places.end() || !is_since(undone->second)) continue;
        steps[at].is_nothing = steps[undone->second].is_nothing = true;
    }
}

// Changes of batches after the handover: after the last one made during that visit, else on later days. What made the
// job, and records of sheets, are no changes.
Result<std::vector<SheetChange>> changes_since_handover(const Session& session) {
    std::vector<SheetChange> changes;
    const Visit* handover = last_handover(session.job());
    if (!handover) return changes;
    std::vector<Step> steps;
    std::size_t last_of_visit = 0;
    const auto look = [&](const Batch& batch) -> Result<void> {
        if (batch.visit == handover->id.text()) last_of_visit = steps.size();
        steps.push_back({batch.address(), batch.undoes, batch.time.substr(0, 10), false});
        return done();
    };
    if (auto read = session.for_each_batch(look); !read) return read.refusal();
    const auto is_since = [&](std::size_t at) {
        return at > 0 && (last_of_visit > 0 ? at > last_of_visit : steps[at].day > handover->date->text);
    };
    cancel_what_was_taken_back(steps, is_since);
    const auto wanted = [&](const Batch& batch, std::size_t at) {
        return batch.visit != handover->id.text() && is_since(at) && !steps[at].is_nothing;
    };
    Result<std::vector<ChangeLine>> lines = changes_in_words(session, wanted);
    if (!lines) return lines.refusal();
    for (ChangeLine& line : *lines)
        changes.push_back(
            {line.time.substr(0, 10), std::move(line.person), {line.what.begin(), line.what.end()}});
    return changes;
}

// As found and as left, of the visits that met or changed something.
Result<std::vector<SheetVisit>> visits_of(const Session& session) {
    const Result<std::vector<VisitChanges>> changes = changes_of_visits(session);
    if (!changes) return changes.refusal();
    std::vector<SheetVisit> visits;
    for (const VisitChanges& visit : *changes) {
        if (visit.points.empty()) continue;
        SheetVisit& told = visits.emplace_back(SheetVisit{visit.visit, {}});
        for (const VisitPoint& point : visit.points) {
            VisitWords words = words_of(session.job(), point);
            told.rows.push_back({point.label.empty() ? point.point.text() : point.label, std::move(words.found),
                                 std::move(words.left)});
        }
    }
    return visits;
}

}  // namespace

Result<States> states_of(const Session& session) {
    States states;
    const auto add = [&](const Batch& batch) -> Result<void> {
        states.add(batch);
        return done();
    };
    if (auto read = session.for_each_batch(add); !read) return read.refusal();
    return states;
}

Result<MadeSheet> make_sheet(const Session& session, const SheetRequest& request, const Stamp& stamp) {
    const Result<States> states = states_of(session);
    if (!states) return states.refusal();
    MadeSheet made;
    made.state = states->now();
    made.reader = request.reader;
    SheetOptions options;
    options.reader = request.reader;
    options.paper = request.paper;
    options.time = stamp.time;
    options.code = short_code(made.state.hash);
    options.state = hex(made.state.hash);
    options.position = made.state.position;
    options.version = TAPWRIGHT_VERSION;
    if (request.reader == SheetReader::technician) {
        Result<std::vector<SheetChange>> changes = changes_since_handover(session);
        if (!changes) return changes.refusal();
        options.changes = std::move(*changes);
        Result<std::vector<SheetVisit>> visits = visits_of(session);
        if (!visits) return visits.refusal();
        options.visits = std::move(*visits);
    }
    options.picture = [&](const std::string& name) -> std::optional<document::Picture> {
        const auto digest = digest_from(name);
        const Result<std::string> copy = digest ? session.get_copy(*digest) : Result<std::string>(Refusal{});
        if (copy && !copy->empty())
            if (Result<photos::Jpeg> small = photos::reduced(*copy, picture_side))
                return document::Picture{std::move(small->bytes), small->width, small->height, std::nullopt};
        ++made.missing_photos;
        return std::nullopt;
    };
    const Words words = request.words.in(length_units(session.job()));
    const document::Document document = handover_sheet(session.job(), session.derived(), options, words);
    if (request.medium == SheetMedium::html) {
        made.bytes = html_page(document);
    } else {
        Result<print::Pdf> pdf = print::render_pdf(document);
        if (!pdf) return pdf.refusal();
        made.bytes = std::move(pdf->bytes);
        made.pages = pdf->pages;
    }
    made.sha256 = sha256(made.bytes);
    return made;
}

Result<bool> record_sheet(Session& session, const MadeSheet& sheet, const Author& author, const Stamp& stamp) {
    const std::string state = hex(sheet.state.hash);
    const std::string file = hex(sheet.sha256);
    const auto records = session.job().all<SheetRecord>();
    const bool is_there = std::any_of(records.begin(), records.end(), [&](const SheetRecord& record) {
        return record.reader == sheet.reader && record.state && record.state->hex == state && record.sha256 &&
               record.sha256->hex == file && record.version == TAPWRIGHT_VERSION && record.time &&
               record.time->text.substr(0, 10) == stamp.date();
    });
    if (is_there) return true;
    if (!session.can_write()) return false;
    const Change change{ChangeOp::add,
                        Kind::sheet,
                        {},
                        {{"time", stamp.time},
                         {"reader", std::string(word(sheet.reader))},
                         {"state", state},
                         {"position", static_cast<double>(sheet.state.position)},
                         {"sha256", file},
                         {"version", TAPWRIGHT_VERSION}}};
    const Result<Outcome> kept =
        session.request(Command{.changes = {change}, .fill_in = true, .place = {}}, author, stamp);
    if (!kept) return kept.refusal();
    return true;
}

}  // namespace tapwright
