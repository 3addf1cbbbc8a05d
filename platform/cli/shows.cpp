// check and solve: what a job leads to. Nothing is written.
#include "core/base/text.h"
#include "core/calc/line_state.h"
#include "core/readings/readings.h"
#include "core/job/json.h"
#include "core/units/parse.h"
#include "core/units/show.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"
#include "core/words/words.h"

namespace tapwright::cli {
namespace {

Result<SolveOptions> options_from(const Call& call) {
    SolveOptions options;
    const std::string knobs = call.option("--knobs", "left");
    if (knobs != "left" && knobs != "full")
        return Refusal{"--knobs " + cited(knobs) + " must be full (every attenuator at 0 dB) or left (as left)."};
    options.knobs = knobs == "full" ? Knobs::full : Knobs::as_left;
    if (call.has("--hz")) {
        const Result<Hertz> hz = parse<Hertz>(call.option("--hz"));
        if (!hz) return Refusal{"--hz: " + in_english(hz.refusal())};
        if (!(hz->value() > 0 && hz->value() <= 200000))
            return Refusal{"--hz must be a frequency above 0 Hz and at most 200000 Hz."};
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

std::string solve_text(const Job& job, const LineState& state, const Derived& derived) {
    std::string text;
    for (std::size_t zone = 0; zone < state.zones.size(); ++zone) {
        const ZoneLine& line = state.zones[zone];
        text += name_of(job, job.all<Zone>()[zone].id) + ": " + show(line.volts) + ", " + show(line.amps) + ", " +
                show(line.watts) + " into " + show(line.ohms) + "; loudspeakers " + show(line.delivered) + ", cable " +
                show(line.cable) + ", attenuators " + show(line.attenuator) + "\n";
        std::vector<std::vector<std::string>> rows{
            {"point", "kind", "volts", "watts", "level", "cable", "ohms from here"}};
        for (std::size_t i = 0; i < state.points.size(); ++i) {
            if (derived.points[i].zone != zone) continue;
            const Point& point = job.all<Point>()[i];
            const PointSolution& solved = state.points[i];
            const bool sounds = point.kind == PointKind::speaker;
            rows.push_back({name_of(job, point.id), std::string(point.kind ? word(*point.kind) : "unknown"),
                            show(solved.volts), sounds ? show(solved.watts) : "",
                            sounds ? (solved.level ? show(*solved.level) : std::string("silent")) : "",
                            solved.cable ? show(*solved.cable) : "", show(solved.ohms)});
        }
        if (rows.size() > 1) text += columns(rows, 2);
        text += "\n";
    }
    return text + "Steady tone at rated power. A calculation for people who may work on the line, not a licence to.\n";
}

}  // namespace

Result<int> check_job(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    print(call.json() ? pretty_json(check_json(session->job(), session->derived()))
                      : check_text(session->job(), session->derived()));
    return status_of(session->derived());
}

Result<int> solve_job(const Call& call) {
    Result<SolveOptions> options = options_from(call);
    if (!options) return options.refusal();
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    if (!options->hz) options->hz = test_frequency(session->job());
    const LineState state = solve_lines(session->job(), wire(session->job()), *options);
    print(call.json() ? pretty_json(solve_json(session->job(), state))
                      : solve_text(session->job(), state, session->derived()));
    return status_of(session->derived());
}

}  // namespace tapwright::cli
