#include "platform/cli/report.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/words/choices.h"
#include "core/words/expected_text.h"
#include "core/words/findings_text.h"
#include "core/words/margin_text.h"
#include "platform/cli/conclusions.h"

namespace tapwright::cli {
namespace {

// The part zones, channels and amplifiers have in common.
void add_margin(Map& map, const Margin& margin, bool is_zone, bool has_load = true) {
    const std::string_view limit_key = is_zone ? "limit_w" : "rated_w";
    map.emplace_back("load_w", has_load ? json_of(margin.load) : Value());
    map.emplace_back(std::string(limit_key), json_of(margin.limit));
    map.emplace_back("reserve_w", json_of(margin.reserve));
    if (!is_zone) map.emplace_back("unrecorded_w", json_of(margin.unrecorded));
    map.emplace_back("headroom_w", json_of(margin.headroom));
    map.emplace_back("used_pct", margin.used_pct ? Value(*margin.used_pct) : Value());
    if (is_zone) map.emplace_back("unrecorded_w", json_of(margin.unrecorded));
    if (is_zone) map.emplace_back("headroom_recorded_w", json_of(margin.headroom_recorded));
}

Map zone_json(const Job& job, const Zone& zone, const ZoneState& state) {
    Map map{{"id", zone.id.text()},
            {"name", name_of(job, zone.id)},
            {"channel", json_of(zone.channel)},
            {"line_v", json_of(state.line_v)},
            {"speakers", static_cast<double>(state.speakers)},
            {"basis", std::string(word(state.margin.basis))}};
    add_margin(map, state.margin, true, !state.low_impedance && !state.emergency);
    map.emplace_back("can_add_w", json_of(state.can_add));
    map.emplace_back("ohms", json_of(state.ohms));
    map.emplace_back("ohms_full", json_of(state.ohms_full));
    map.emplace_back("ohms_all", json_of(state.ohms_all));
    map.emplace_back("connected", static_cast<double>(state.connected));
    map.emplace_back("planned", static_cast<double>(state.planned()));
    if (state.emergency) map.emplace_back("emergency", true);
    map.emplace_back("not_recorded", Map{{"runs", static_cast<double>(state.not_recorded.runs)},
                                         {"positions", static_cast<double>(state.not_recorded.positions)},
                                         {"taps", static_cast<double>(state.not_recorded.taps)},
                                         {"untraced", static_cast<double>(state.not_recorded.untraced)}});
    return map;
}

template <class R, class State>
List outputs_json(const Job& job, const std::vector<State>& states) {
    List list;
    for (std::size_t i = 0; i < states.size(); ++i) {
        const R& record = job.all<R>()[i];
        Map map{{"id", record.id.text()}, {"name", name_of(job, record.id)}};
        add_margin(map, states[i].margin, false);
        list.emplace_back(std::move(map));
    }
    return list;
}

template <class R, class State>
void add_rows(std::vector<Row>& rows, const Job& job, const std::vector<State>& states) {
    for (std::size_t i = 0; i < states.size(); ++i) {
        const Margin& margin = states[i].margin;
        rows.push_back(
            {cell(name_of(job, job.all<R>()[i].id)), load_of(margin), cell(margin.limit), headroom_of(margin)});
    }
}

std::vector<Row> zone_rows(const Job& job, const Derived& derived) {
    std::vector<Row> rows{{in_context("column", "zone"), in_context("column", "line"),
                           in_context("column", "loudspeakers"), in_context("column", "load"),
                           in_context("column", "limit"), in_context("column", "headroom"),
                           in_context("column", "may be added"), in_context("column", "expected")}};
    for (std::size_t i = 0; i < derived.zones.size(); ++i) {
        const ZoneState& zone = derived.zones[i];
        if (zone.emergency) {
            rows.push_back(
                {cell(name_of(job, job.all<Zone>()[i].id)), Message(), Message(), Message("not calculated")});
            continue;
        }
        rows.push_back({cell(name_of(job, job.all<Zone>()[i].id)), Message(zone.line_v),
                        Message(Count{static_cast<std::int64_t>(zone.speakers)}),
                        zone.low_impedance ? Message(ZoneOutput::low_z) : load_of(zone.margin), cell(zone.margin.limit),
                        headroom_of(zone.margin), zone.can_add ? Message(may_add(*zone.can_add)) : Message("unknown"),
                        expected_of(zone)});
    }
    return rows;
}

std::string findings_text(const Words& words, const Job& job, const Derived& derived, bool why) {
    if (derived.findings.empty()) return words.text(Message("Nothing was found.")) + "\n";
    std::vector<Row> rows;
    const FindingWords of_findings(job, derived);
    for (const Finding& finding : derived.findings) {
        const Statement said = of_findings.statement_of(finding);
        rows.push_back({Message(Choice{"Severity", word(finding.severity)}), said.text});
        if (why && !said.why.empty()) rows.push_back({Message(), said.why});
    }
    return columns(words, rows, rows.front().size());
}

}  // namespace

Value json_of(const std::optional<Id>& id) {
    return id ? Value(id->text()) : Value();
}

std::string columns(const Words& words, const std::vector<Row>& rows, std::size_t numbers_from) {
    std::vector<std::vector<std::string>> texts;
    std::vector<std::size_t> widths;
    for (const Row& row : rows) {
        std::vector<std::string>& cells = texts.emplace_back();
        for (const Message& message : row) {
            cells.push_back(words.text(as_title(message)));
            if (widths.size() < cells.size()) widths.push_back(0);
            std::size_t& width = widths[cells.size() - 1];
            width = std::max(width, code_points(cells.back()));
        }
    }
    std::string text;
    for (const std::vector<std::string>& cells : texts) {
        std::string line;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const std::string gap(widths[i] - code_points(cells[i]), ' ');
            line += (i == 0 ? "  " : "   ") + (i >= numbers_from ? gap + cells[i] : cells[i] + gap);
        }
        text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
    }
    return text;
}

Map check_json(const Job& job, const Derived& derived) {
    List zones;
    for (std::size_t i = 0; i < derived.zones.size(); ++i)
        zones.emplace_back(zone_json(job, job.all<Zone>()[i], derived.zones[i]));
    List findings;
    const FindingWords of_findings(job, derived);
    for (const Finding& finding : derived.findings)
        findings.emplace_back(Map{{"code", std::string(finding.code)},
                                  {"severity", std::string(word(finding.severity))},
                                  {"at", finding.at.text()},
                                  {"text", in_english(of_findings.statement_of(finding).text)},
                                  {"why", in_english(of_findings.statement_of(finding).why)},
                                  {"against_limit", against_limit_json(job, derived, finding)}});
    return Map{{"zones", std::move(zones)},
               {"channels", outputs_json<Channel>(job, derived.channels)},
               {"amplifiers", outputs_json<Amplifier>(job, derived.amplifiers)},
               {"findings", std::move(findings)},
               {"readings", readings_json(job, derived)}};
}

std::string check_text(const Words& words, const Job& job, const Derived& derived, bool why) {
    std::string text = words.text(Message(entered(name_of(job, job_id())))) + "\n";
    if (!derived.zones.empty()) text += "\n" + columns(words, zone_rows(job, derived), 1);
    std::vector<Row> outputs{{in_context("column", "amplifier and output"), in_context("column", "load"),
                              in_context("column", "rated"), in_context("column", "headroom")}};
    add_rows<Amplifier>(outputs, job, derived.amplifiers);
    add_rows<Channel>(outputs, job, derived.channels);
    if (outputs.size() > 1) text += "\n" + columns(words, outputs, 1);
    const Percent reserve = job.info().reserve_pct.value_or(Defaults::reserve_pct);
    const Message legend =
        sentences({Message("Headroom is what stays below the limit with the reserve of {reserve} kept free.",
                           {{"reserve", reserve}}),
                   Message("What may be added is shared between zones: it is not a sum.")});
    return text + "\n" + words.text(legend) + "\n\n" + findings_text(words, job, derived, why) +
           (any_to_seek(job, derived) ? "\n" +
                                            words.text(Message("To find a fault: {command}.",
                                                               {{"command", code("`tapwright faults FILE ZONE`")}})) +
                                            "\n"
                                      : "");
}

}  // namespace tapwright::cli
