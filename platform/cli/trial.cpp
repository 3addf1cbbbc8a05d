// trial: the effect of proposed changes, worked out beside the job. Nothing is written.
#include "core/plan/trial.h"

#include <cmath>

#include "core/base/text.h"
#include "core/findings/findings.h"
#include "core/exchange/job_json.h"
#include "core/job/json.h"
#include "core/units/show.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"
#include "platform/system/files.h"
#include "platform/system/stamps.h"
#include "core/words/findings_text.h"

namespace tapwright::cli {
namespace {

constexpr double heard_db = 0.1;
constexpr std::size_t most_bytes = std::size_t{64} << 20;

// A file, or a trial kept in the job by its id.
Result<ChangeList> changes_of_call(const Call& call, const Job& job) {
    const std::string& what = call.arguments[1];
    if (Id::is_valid(what))
        if (const Trial* trial = job.find<Trial>(Id(what))) return trial->changes.value_or(ChangeList());
    const Result<std::string> text = read_file(what, most_bytes);
    if (!text) return text.refusal();
    return read_changes(*text, what);
}

List findings_json(const Job& before, const Derived& then, const Proposal& proposal, const Comparison& comparison) {
    List list;
    for (const FindingPair& pair : comparison.findings) {
        const bool appears = pair.fate == Fate::appears;
        list.emplace_back(Map{{"change", appears ? "appears" : "vanishes"},
                              {"code", std::string(pair.finding.code)},
                              {"severity", std::string(word(pair.finding.severity))},
                              {"at", pair.finding.at.text()},
                              {"text", appears ? sentence(proposal.job, proposal.derived, pair.finding)
                                               : sentence(before, then, pair.finding)}});
    }
    return list;
}

std::string trial_text(const Job& before, const Derived& then, const Proposal& proposal, const Comparison& comparison) {
    std::vector<std::vector<std::string>> rows{{"", "load", "then", "headroom", "then", "expected", "then"}};
    for (const LoadPair& pair : comparison.loads) {
        const auto load = [](const std::optional<Margin>& margin) { return margin ? show(margin->load) : "none"; };
        const auto headroom = [](const std::optional<Margin>& margin) {
            return margin ? show(margin->headroom) : "none";
        };
        rows.push_back({name_of(pair.after ? proposal.job : before, pair.id), load(pair.before), load(pair.after),
                        headroom(pair.before), headroom(pair.after), pair.ohms_before ? show(*pair.ohms_before) : "",
                        pair.ohms_after ? show(*pair.ohms_after) : ""});
    }
    std::string text = columns(rows, 1);
    rows = {{"loudspeaker", "draws", "then", "level"}};
    for (const SpeakerPair& pair : comparison.speakers) {
        // What nobody hears, a few millivolts of cable, is no change of a level.
        const bool stays =
            pair.drawn_before == pair.drawn_after && pair.change && std::abs(pair.change->value()) < heard_db;
        if (stays) continue;
        rows.push_back({name_of(pair.drawn_after ? proposal.job : before, pair.id), show(pair.drawn_before),
                        show(pair.drawn_after), pair.change ? show(*pair.change) : ""});
    }
    if (rows.size() > 1) text += "\n" + columns(rows, 1);
    rows = {{"attenuator", "behind it", "then", "rated", "then"}};
    for (const AttenuatorPair& pair : comparison.attenuators)
        if (pair.behind_before != pair.behind_after || pair.rating_before != pair.rating_after)
            rows.push_back({name_of(pair.behind_after ? proposal.job : before, pair.id), show(pair.behind_before),
                            show(pair.behind_after), show(pair.rating_before), show(pair.rating_after)});
    if (rows.size() > 1) text += "\n" + columns(rows, 1);
    text += "\n";
    for (const FindingPair& pair : comparison.findings) {
        const bool appears = pair.fate == Fate::appears;
        text +=
            std::string(appears ? "appears   " : "vanishes  ") +
            (appears ? sentence(proposal.job, proposal.derived, pair.finding) : sentence(before, then, pair.finding)) +
            "\n";
    }
    return text + "Nothing was written.\n";
}

}  // namespace

Result<int> try_changes(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Result<ChangeList> changes = changes_of_call(call, session->job());
    if (!changes) return changes.refusal();
    if (changes->empty())
        return Refusal{cited(call.arguments[1]) +
                       " holds no changes; it must be a list such as [{\"op\": \"set\", \"kind\": \"point\", \"id\": "
                       "\"p1\", \"fields\": {\"tap_w\": 2.5}}], alone or as \"changes\"."};
    const Command command{.changes = trial_changes(session->job(), *changes), .fill_in = true, .place = {}};
    const Result<Proposal> proposal = session->propose(command, Author{}, make_stamp());
    if (!proposal) return proposal.refusal();
    const Comparison comparison = compare(session->job(), session->derived(), proposal->job, proposal->derived);
    print(call.json()
              ? pretty_json(Map{{"before", check_json(session->job(), session->derived())},
                                {"after", check_json(proposal->job, proposal->derived)},
                                {"findings", findings_json(session->job(), session->derived(), *proposal, comparison)}})
              : trial_text(session->job(), session->derived(), *proposal, comparison));
    return status_of(proposal->derived);
}

}  // namespace tapwright::cli
