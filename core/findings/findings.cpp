#include "core/findings/findings.h"

#include <array>
#include <tuple>

#include "core/base/sort.h"
#include "core/findings/finding_list.h"
#include "core/job/relations.h"

namespace tapwright {
namespace {

constexpr auto table = std::to_array<FindingInfo>({
#define TAPWRIGHT_FINDING(code, severity, help) {#code, Severity::severity, Pattern(help)},
    TAPWRIGHT_FINDINGS(TAPWRIGHT_FINDING)
#undef TAPWRIGHT_FINDING
});

const FindingInfo& info_of(FindingCode code) {
    return table.at(static_cast<std::size_t>(code));
}

Id id_at(const Job& job, Kind kind, std::uint32_t place) {
    return with_record_type(kind, [&]<class R>() { return job.all<R>()[place].id; });
}

std::uint32_t place_of(const Job& job, Kind kind, const Id& id) {
    return with_record_type(kind, [&]<class R>() { return job.place<R>(id).value_or(0); });
}

FindingCode code_for(Breach breach) {
    switch (breach) {
        case Breach::missing_field:
            return FindingCode::missing_field;
        case Breach::dangling:
            return FindingCode::dangling_reference;
        case Breach::wrong_kind:
            return FindingCode::wrong_kind;
        case Breach::feed_loop:
            return FindingCode::feed_loop;
        case Breach::tap_not_offered:
            return FindingCode::tap_not_offered;
        case Breach::shared_id:
            return FindingCode::shared_id;
    }
    return FindingCode::missing_field;
}

}  // namespace

std::span<const FindingInfo> finding_table() {
    return table;
}

FindingCode code_of(const Finding& finding) {
    for (std::size_t i = 0; i < table.size(); ++i)
        if (table.at(i).code == finding.code) return static_cast<FindingCode>(i);
    TAPWRIGHT_ENSURE(!"a finding whose code is not in the table");
}

std::vector<Finding> FindingList::in_order(const Job& job) {
    const auto rank = [](const Found& found) {
        return std::tuple(-static_cast<int>(info_of(found.code).severity), found.kind, found.place, found.code,
                          found.detail);
    };
    sort_by(found_, [&](const Found& a, const Found& b) { return rank(a) < rank(b); });
    std::vector<Finding> findings;
    findings.reserve(found_.size());
    for (const Found& found : found_) {
        const FindingInfo& info = info_of(found.code);
        findings.push_back({info.code, info.severity, id_at(job, found.kind, found.place), found.detail});
    }
    return findings;
}

// detail: its place in broken_relations(job).
void find_broken_relations(const Job& job, FindingList& list) {
    const std::vector<BrokenRelation> broken = broken_relations(job);
    for (std::size_t i = 0; i < broken.size(); ++i)
        list.add(code_for(broken[i].breach), broken[i].kind, place_of(job, broken[i].kind, broken[i].id), i);
}

std::string_view word(Severity severity) {
    return std::array<std::string_view, 3>{"note", "warn", "stop"}.at(static_cast<std::size_t>(severity));
}

std::vector<Finding> find(const Job& job, const Wiring& wiring, const Judged& judged) {
    FindingList list;
    find_in_loads(job, wiring, judged, list);
    find_on_points(job, wiring, judged, list);
    find_on_lines(job, wiring, judged, list);
    find_in_readings(job, judged, list);
    find_broken_relations(job, list);
    return list.in_order(job);
}

}  // namespace tapwright
