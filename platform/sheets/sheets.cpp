#include "platform/sheets/sheets.h"

#include <algorithm>

#include "core/html/html.h"
#include "core/job/field_text.h"
#include "core/session/changes.h"
#include "core/session/recorders.h"
#include "core/session/visit_changes.h"
#include "core/sheet/labels.h"
#include "core/words/words.h"

namespace tapwright {
namespace {

// What the technician's sheet tells of the changes since the last handover.
Result<std::vector<SheetChange>> told_changes(const Session& session) {
    std::vector<SheetChange> changes;
    TAPWRIGHT_TAKE(lines, changes_since_handover(session));
    changes.reserve(lines.size());
    for (const ChangeLine& line : lines) changes.push_back({line.time.substr(0, 10), line.person, line.what});
    return changes;
}

// As found and as left, of the visits that met or changed something.
Result<std::vector<SheetVisit>> visits_of(const Session& session) {
    TAPWRIGHT_TAKE(changes, changes_of_visits(session));
    std::vector<SheetVisit> visits;
    for (const VisitChanges& visit : changes) {
        if (visit.points.empty()) continue;
        SheetVisit& told = visits.emplace_back(SheetVisit{visit.visit, {}});
        for (const VisitPoint& point : visit.points) {
            const VisitWords words = words_of(session.job(), point);
            told.rows.push_back(
                {point.point, point.label.empty() ? point.point.text() : point.label, words.found, words.left});
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

Result<MadeSheet> render_sheet(const Session& session, const SheetChoice& choice, const ReducePhoto& reduce,
                               const RenderSheet& render, const Stamp& stamp) {
    TAPWRIGHT_TAKE(states, states_of(session));
    MadeSheet made;
    made.state = states.now();
    made.reader = choice.reader;
    SheetOptions options;
    options.reader = choice.reader;
    options.paper = choice.paper;
    options.time = stamp.time;
    options.code = short_code(made.state.hash);
    options.state = hex(made.state.hash);
    options.position = made.state.position;
    options.version = TAPWRIGHT_VERSION;
    TAPWRIGHT_TAKE(recorders, recorders_of(session, {"heard", "polarity", "tap_w"}));
    options.recorders = recorders;
    if (choice.reader == SheetReader::technician) {
        Result<std::vector<SheetChange>> changes = told_changes(session);
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
            if (std::optional<document::Picture> picture = reduce(*copy)) return picture;
        ++made.missing_photos;
        return std::nullopt;
    };
    TAPWRIGHT_PASS(render(session, options, choice.words.in(length_units(session.job())), made));
    made.sha256 = sha256(made.bytes);
    return made;
}

Result<void> render_html(const Session& session, const SheetOptions& options, const Words& words, MadeSheet& made) {
    std::optional<HtmlWriter> page;
    const auto out = [&](std::string_view part) { made.bytes += part; };
    handover_sheet(session.job(), session.derived(), options, words,
                   {[&](const document::Document& head) { page.emplace(head, out); },
                    [&](document::Block&& block) { page->add(block); }});
    const HtmlWriter::Later later = page->finish();
    made.bytes.insert(later.at, later.text);
    return done();
}

document::Document labels_of(const Session& session, const Words& words, const Stamp& stamp) {
    LabelOptions options;
    options.time = stamp.time;
    return label_sheet(session.job(), session.derived(), options, words.in(length_units(session.job())));
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
    TAPWRIGHT_PASS(session.request(Command{.changes = {change}, .fill_in = true, .place = {}}, author, stamp));
    return true;
}

}  // namespace tapwright
