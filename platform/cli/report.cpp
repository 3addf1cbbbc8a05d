#include "platform/cli/report.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/units/show.h"
#include "core/words/findings_text.h"

namespace tapwright::cli {
namespace {

// The part zones, channels and amplifiers have in common.
void add_margin(Map& map, const Margin& margin, std::string_view limit_key, bool has_load = true) {
    map.emplace_back("load_w", has_load ? json_of(margin.load) : Value());
    map.emplace_back(std::string(limit_key), json_of(margin.limit));
    map.emplace_back("reserve_w", json_of(margin.reserve));
    map.emplace_back("headroom_w", json_of(margin.headroom));
    map.emplace_back("used_pct", margin.used_pct ? Value(*margin.used_pct) : Value());
}

Map zone_json(const Job& job, const Zone& zone, const ZoneState& state) {
    Map map{{"id", zone.id.text()},
            {"name", name_of(job, zone.id)},
            {"channel", json_of(zone.channel)},
            {"line_v", json_of(state.line_v)},
            {"speakers", static_cast<double>(state.speakers)},
            {"basis", std::string(word(state.margin.basis))}};
    add_margin(map, state.margin, "limit_w", !state.low_impedance);
    map.emplace_back("unrecorded_w", json_of(state.unrecorded));
    map.emplace_back("headroom_measured_w", json_of(state.headroom_measured));
    map.emplace_back("can_add_w", json_of(state.can_add));
    map.emplace_back("ohms", json_of(state.ohms));
    return map;
}

template <class R, class State>
List outputs_json(const Job& job, const std::vector<State>& states) {
    List list;
    for (std::size_t i = 0; i < states.size(); ++i) {
        const R& record = job.all<R>()[i];
        Map map{{"id", record.id.text()}, {"name", name_of(job, record.id)}};
        add_margin(map, states[i].margin, "rated_w");
        list.emplace_back(std::move(map));
    }
    return list;
}

std::string load_text(const Margin& margin) {
    return (margin.basis == Basis::at_least ? "at least " : "") + show(margin.load);
}

template <class R, class State>
void add_rows(std::vector<std::vector<std::string>>& rows, const Job& job, const std::vector<State>& states) {
    for (std::size_t i = 0; i < states.size(); ++i) {
        const Margin& margin = states[i].margin;
        rows.push_back(
            {name_of(job, job.all<R>()[i].id), load_text(margin), show(margin.limit), show(margin.headroom)});
    }
}

}  // namespace

Value json_of(const std::optional<Id>& id) {
    return id ? Value(id->text()) : Value();
}

std::string columns(const std::vector<std::vector<std::string>>& rows, std::size_t numbers_from) {
    std::vector<std::size_t> widths;
    for (const auto& row : rows)
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (widths.size() <= i) widths.push_back(0);
            widths[i] = std::max(widths[i], code_points(row[i]));
        }
    std::string text;
    for (const auto& row : rows) {
        std::string line;
        for (std::size_t i = 0; i < row.size(); ++i) {
            const std::string gap(widths[i] - code_points(row[i]), ' ');
            line += (i == 0 ? "  " : "   ") + (i >= numbers_from ? gap + row[i] : row[i] + gap);
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
    for (const Finding& finding : derived.findings)
        findings.emplace_back(Map{{"code", std::string(finding.code)},
                                  {"severity", std::string(word(finding.severity))},
                                  {"at", finding.at.text()},
                                  {"text", sentence(job, derived, finding)}});
    return Map{{"zones", std::move(zones)},
               {"channels", outputs_json<Channel>(job, derived.channels)},
               {"amplifiers", outputs_json<Amplifier>(job, derived.amplifiers)},
               {"findings", std::move(findings)}};
}

std::string check_text(const Job& job, const Derived& derived) {
    std::string text = name_of(job, job_id()) + "\n";
    if (!derived.zones.empty()) {
        std::vector<std::vector<std::string>> rows{
            {"zone", "line", "loudspeakers", "load", "limit", "headroom", "can add", "expected"}};
        for (std::size_t i = 0; i < derived.zones.size(); ++i) {
            const ZoneState& zone = derived.zones[i];
            rows.push_back({name_of(job, job.all<Zone>()[i].id), show(zone.line_v), std::to_string(zone.speakers),
                            zone.low_impedance ? "low impedance" : load_text(zone.margin), show(zone.margin.limit),
                            show(zone.headroom_measured),
                            zone.can_add ? show(may_add(*zone.can_add)) : show(zone.can_add), show(zone.ohms)});
        }
        text += "\n" + columns(rows, 1);
    }
    std::vector<std::vector<std::string>> outputs{{"amplifier and output", "load", "rated", "headroom"}};
    add_rows<Amplifier>(outputs, job, derived.amplifiers);
    add_rows<Channel>(outputs, job, derived.channels);
    if (outputs.size() > 1) text += "\n" + columns(outputs, 1);
    text += "\nHeadroom is what stays below the limit once the reserve of " +
            rounded(job.info().reserve_pct.value_or(Defaults::reserve_pct).value(), 1) +
            " % is kept free. What can be added is shared between zones; it is not a sum.\n";
    text += derived.findings.empty() ? "\nNothing was found.\n" : "\n";
    for (const Finding& finding : derived.findings) {
        std::string severity(word(finding.severity));
        severity.resize(6, ' ');
        text += severity + sentence(job, derived, finding) + "\n";
    }
    return text;
}

}  // namespace tapwright::cli
