// check and solve: what a job leads to. Nothing is written.
#include "core/base/text.h"
#include "core/calc/line_state.h"
#include "core/job/json.h"
#include "core/readings/readings.h"
#include "core/units/parse.h"
#include "core/words/expected_text.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

Result<SolveOptions> options_from(const Call& call) {
    SolveOptions options;
    const std::string knobs = call.option("--knobs", "left");
    if (knobs != "left" && knobs != "full") return none_of("--knobs", knobs, {"full", "left"});
    options.knobs = knobs == "full" ? Knobs::full : Knobs::as_left;
    if (call.has("--hz")) {
        const Result<Hertz> hz = parse<Hertz>(call.option("--hz"));
        if (!hz) return placed(code("--hz"), hz.refusal());
        if (!(hz->value() >= 1 && hz->value() <= 200000))
            return placed(code("--hz"), Refusal{Message("Give a frequency from 1 Hz to 200 kHz.")});
        options.hz = *hz;
    }
    return options;
}

Map solve_json(const Job& job, const LineState& state) {
    List zones;
    for (std::size_t i = 0; i < state.zones.size(); ++i) {
        const ZoneLine& line = state.zones[i];
        zones.emplace_back(Map{{"id", job.all<Zone>()[i].id.text()},
                               {"volts", json_of(line.volts)},
                               {"amps", json_of(line.amps)},
                               {"watts", json_of(line.watts)},
                               {"ohms", json_of(line.ohms)},
                               {"delivered_w", json_of(line.delivered)},
                               {"cable_w", json_of(line.cable)},
                               {"attenuator_w", json_of(line.attenuator)}});
    }
    List points;
    for (std::size_t i = 0; i < state.points.size(); ++i) {
        const PointSolution& point = state.points[i];
        points.emplace_back(Map{{"id", job.all<Point>()[i].id.text()},
                                {"volts", json_of(point.volts)},
                                {"watts", json_of(point.watts)},
                                {"level_db", json_of(point.level)},
                                {"cable_db", json_of(point.cable)},
                                {"ohms", json_of(point.ohms)}});
    }
    return Map{{"zones", std::move(zones)}, {"points", std::move(points)}};
}

Row solved_row(const Job& job, const Point& point, const PointSolution& solved) {
    const bool sounds = point.kind == PointKind::speaker;
    Row row{cell(name_of(job, point.id)), point.kind ? Message(as_argument(*point.kind)) : Message("unknown"),
            Message(solved.volts)};
    row.push_back(sounds ? Message(solved.watts) : Message());
    row.push_back(!sounds ? Message() : solved.level ? Message(*solved.level) : Message("silent"));
    row.push_back(cell_if_any(solved.cable));
    row.push_back(Message(solved.ohms));
    return row;
}

Message zone_line(const Job& job, std::size_t zone, const ZoneLine& line) {
    return Message(
        "{zone}: {volts}, {amps}, {watts} into {ohms}; loudspeakers {delivered}, cable {cable}, attenuators "
        "{attenuators}",
        {{"zone", entered(name_of(job, job.all<Zone>()[zone].id))},
         {"volts", line.volts},
         {"amps", line.amps},
         {"watts", line.watts},
         {"ohms", line.ohms},
         {"delivered", line.delivered},
         {"cable", line.cable},
         {"attenuators", line.attenuator}});
}

// Why the figures of a zone are bounds, under these options.
Message bound_reason_of(const ZoneState& zone, const SolveOptions& options) {
    NotRecorded missing = options.planned ? missing_of_all(zone) : zone.not_recorded;
    if (options.knobs == Knobs::full) missing.positions = 0;
    return bound_reason(missing);
}

std::string solve_text(const Words& words, const Job& job, const LineState& state, const Derived& derived,
                       const SolveOptions& options) {
    std::string text;
    for (std::size_t zone = 0; zone < state.zones.size(); ++zone) {
        text += words.text(zone_line(job, zone, state.zones[zone])) + "\n";
        if (const Message reason = bound_reason_of(derived.zones[zone], options); !reason.empty())
            text += words.text(reason) + "\n";
        std::vector<Row> rows{{in_context("column", "point"), in_context("column", "kind"),
                               in_context("column", "volts"), in_context("column", "watts"),
                               in_context("column", "level"), in_context("column", "cable"),
                               in_context("column", "impedance from here")}};
        for (std::size_t i = 0; i < state.points.size(); ++i)
            if (derived.points[i].zone == zone) rows.push_back(solved_row(job, job.all<Point>()[i], state.points[i]));
        if (rows.size() > 1) text += columns(words, rows, 2);
        text += "\n";
    }
    return text + words.text(Message("Calculated for a steady tone at rated power.")) + "\n";
}

}  // namespace

Result<int> check_job(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Words words = call.words_for(session->job());
    print(call.json() ? pretty_json(check_json(session->job(), session->derived()))
                      : check_text(words, session->job(), session->derived(), call.has("--why")));
    return status_of(session->derived());
}

Result<int> solve_job(const Call& call) {
    Result<SolveOptions> options = options_from(call);
    if (!options) return options.refusal();
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    if (!options->hz) options->hz = test_frequency(session->job());
    const LineState state = solve_lines(session->job(), wire(session->job()), *options);
    print(call.json()
              ? pretty_json(solve_json(session->job(), state))
              : solve_text(call.words_for(session->job()), session->job(), state, session->derived(), *options));
    return status_of(session->derived());
}

}  // namespace tapwright::cli
