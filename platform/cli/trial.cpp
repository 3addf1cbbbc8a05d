// trial: the effect of proposed changes, worked out beside the job. Written is only what is asked for: the trial itself
// (--keep), or its changes (--real).
#include "core/plan/trial.h"
#include "core/words/margin_text.h"

#include <cmath>

#include "core/base/text.h"
#include "core/exchange/job_json.h"
#include "core/findings/findings.h"
#include "core/job/json.h"
#include "core/words/findings_text.h"
#include "platform/cli/command.h"
#include "platform/cli/keeping.h"
#include "platform/cli/report.h"
#include "platform/system/files.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

constexpr double heard_db = 0.1;
constexpr std::size_t most_bytes = std::size_t{64} << 20;

// A trial kept in the job, by its id or its name; else a file, or "-".
Result<ChangeList> changes_of_call(const Call& call, const Session& session) {
    const std::string& what = call.arguments[1];
    TAPWRIGHT_TAKE(kept, find_record(session.job(), what, {Kind::trial}));
    if (kept)
        return with_free_ids(session.job(), session.job().find<Trial>(*kept)->changes.value_or(ChangeList()),
                             [&](const Id& id) { return session.was_used(id); });
    const Result<std::string> text = read_input(what, most_bytes);
    if (!text) return text.refusal();
    return read_changes(*text, what);
}

List findings_json(const Job& before, const Derived& then, const Proposal& proposal, const Comparison& comparison) {
    List list;
    for (const FindingPair& pair : comparison.findings) {
        const bool appears = pair.fate == Fate::appears;
        list.emplace_back(
            Map{{"change", appears ? "appears" : "vanishes"},
                {"code", std::string(pair.finding.code)},
                {"severity", std::string(word(pair.finding.severity))},
                {"at", pair.finding.at.text()},
                {"text", in_english(appears ? statement_of(proposal.job, proposal.derived, pair.finding).text
                                            : statement_of(before, then, pair.finding).text)}});
    }
    return list;
}

// Of zones and outputs: what a meter shows now, with the changes, and once all that is planned is connected.
List to_be_read_json(const Comparison& comparison) {
    List list;
    for (const LoadPair& pair : comparison.loads)
        if (pair.kind != Kind::amplifier)
            list.emplace_back(Map{{"id", pair.id.text()},
                                  {"before_ohms", json_of(pair.read_before)},
                                  {"after_ohms", json_of(pair.read_after)},
                                  {"all_ohms", json_of(pair.read_all_after)}});
    return list;
}

// The two sides that a table compares.
struct Sides {
    const Job& before;
    const Derived& derived_before;
    const Job& after;
    const Derived& derived_after;
    Message name(const Id& id, bool is_there_after) const { return cell(name_of(is_there_after ? after : before, id)); }
};

Message then() {
    return in_context("column", "then");
}

// With what is planned, because that is what a trial is about.
std::optional<Ohms> read_then(const LoadPair& pair) {
    return pair.read_all_after ? pair.read_all_after : pair.read_after;
}

std::vector<Row> load_rows(const Sides& sides, const Comparison& comparison) {
    std::vector<Row> rows{{Message(), in_context("column", "load"), then(), in_context("column", "headroom"), then(),
                           in_context("column", "to be read"), then()}};
    const auto load = [](const std::optional<Margin>& margin) {
        if (margin && margin->unrecorded > Watts(0))
            return Message("{load} + {unrecorded} read", {{"load", margin->load}, {"unrecorded", margin->unrecorded}});
        return margin ? load_of(*margin) : Message("none");
    };
    const auto headroom = [](const std::optional<Margin>& margin) {
        return margin ? headroom_of(*margin) : Message("none");
    };
    for (const LoadPair& pair : comparison.loads)
        rows.push_back({sides.name(pair.id, pair.after.has_value()), load(pair.before), load(pair.after),
                        headroom(pair.before), headroom(pair.after), cell_if_any(pair.read_before),
                        cell_if_any(read_then(pair))});
    return rows;
}

std::vector<Row> speaker_rows(const Sides& sides, const Comparison& comparison) {
    std::vector<Row> rows{
        {in_context("column", "loudspeaker"), in_context("column", "draws"), then(), in_context("column", "level")}};
    for (const SpeakerPair& pair : comparison.speakers) {
        // What nobody hears, a few millivolts of cable, is no change of a level.
        const bool stays =
            pair.drawn_before == pair.drawn_after && pair.change && std::abs(pair.change->value()) < heard_db;
        if (stays) continue;
        rows.push_back({sides.name(pair.id, pair.drawn_after.has_value()), cell(pair.drawn_before),
                        cell(pair.drawn_after), cell_if_any(pair.change)});
    }
    return rows;
}

std::vector<Row> attenuator_rows(const Sides& sides, const Comparison& comparison) {
    std::vector<Row> rows{{in_context("column", "attenuator"), in_context("column", "behind it"), then(),
                           in_context("column", "rated"), then()}};
    for (const AttenuatorPair& pair : comparison.attenuators)
        if (pair.behind_before != pair.behind_after || pair.rating_before != pair.rating_after)
            rows.push_back({sides.name(pair.id, pair.behind_after.has_value()), cell(pair.behind_before),
                            cell(pair.behind_after), cell(pair.rating_before), cell(pair.rating_after)});
    return rows;
}

std::vector<Row> finding_rows(const Sides& sides, const Comparison& comparison) {
    std::vector<Row> rows;
    for (const FindingPair& pair : comparison.findings)
        rows.push_back(
            pair.fate == Fate::appears
                ? Row{in_context("finding", "new"), statement_of(sides.after, sides.derived_after, pair.finding).text}
                : Row{in_context("finding", "gone"),
                      statement_of(sides.before, sides.derived_before, pair.finding).text});
    return rows;
}

std::string trial_text(const Words& words, const Sides& sides, const Comparison& comparison) {
    std::string text = columns(words, load_rows(sides, comparison), 1);
    for (const std::vector<Row>& rows : {speaker_rows(sides, comparison), attenuator_rows(sides, comparison)})
        if (rows.size() > 1) text += "\n" + columns(words, rows, 1);
    text += "\n";
    const std::vector<Row> findings = finding_rows(sides, comparison);
    if (!findings.empty()) text += columns(words, findings, findings.front().size()) + "\n";
    return text;
}

Result<std::optional<MadeReal>> real_from(const Call& call) {
    if (!call.has("--real")) return std::optional<MadeReal>();
    if (call.has("--keep"))
        return Refusal{Message("Give {keep} or {real}, not both: a trial that is made real is not kept beside it.",
                               {{"keep", code("--keep")}, {"real", code("--real")}})};
    if (call.option("--real") == "set") return std::optional(MadeReal::as_left);
    if (call.option("--real") == "plan") return std::optional(MadeReal::as_planned);
    return none_of("--real", call.option("--real"), {"set", "plan"});
}

// One batch; a kept trial goes with it.
Result<void> record_real(const Call& call, Session& session, const ChangeList& changes, MadeReal how) {
    ChangeList real = made_real(session.job(), changes, how);
    TAPWRIGHT_TAKE(trial, find_record(session.job(), call.arguments[1], {Kind::trial}));
    if (trial) real.push_back({ChangeOp::remove, Kind::trial, *trial, {}});
    const Result<std::vector<Id>> kept = keep_changes(call, session, real);
    if (!kept) return kept.refusal();
    return done();
}

Message what_was_saved(const std::optional<MadeReal>& real) {
    if (!real) return Message("Nothing was saved.");
    return *real == MadeReal::as_left ? Message("Made real, taps set. Read the line before switching the amplifier on.")
                                      : Message("Made real as the plan. Set the taps, then read the line.");
}

}  // namespace

Result<int> try_changes(const Call& call) {
    const Result<std::optional<MadeReal>> real = real_from(call);
    if (!real) return real.refusal();
    Result<Session> session = Session::open(call.arguments[0], access_for(call));
    if (!session) return session.refusal();
    const Result<ChangeList> changes = changes_of_call(call, *session);
    if (!changes) return changes.refusal();
    if (changes->empty())
        return Refusal{
            Message("{file} holds no changes. Write a list such as {example}, alone or as {changes}.",
                    {{"file", entered(cited(call.arguments[1]))},
                     {"example", code(R"([{"op": "set", "kind": "point", "id": "p1", "fields": {"tap_w": 2.5}}])")},
                     {"changes", code("\"changes\"")}})};
    const Command command{.changes = trial_changes(session->job(), *changes), .fill_in = true, .place = {}};
    const Result<Proposal> proposal = session->propose(command, Author{}, make_stamp());
    if (!proposal) return proposal.refusal();
    const Comparison comparison = compare(session->job(), session->derived(), proposal->job, proposal->derived);
    // What is told is told of the job before anything is kept.
    // One after the other: in braces each would be copied, large as they are.
    Map json;
    json.emplace_back("before", check_json(session->job(), session->derived()));
    json.emplace_back("after", check_json(proposal->job, proposal->derived));
    json.emplace_back("findings", findings_json(session->job(), session->derived(), *proposal, comparison));
    json.emplace_back("to_be_read", to_be_read_json(comparison));
    const Words words = call.words_for(session->job());
    const std::string text =
        trial_text(words, {session->job(), session->derived(), proposal->job, proposal->derived}, comparison);
    std::optional<Id> kept;
    if (call.has("--keep")) {
        TAPWRIGHT_TAKE(trial, keep_trial(call, *session, *changes));
        kept = trial;
        json.emplace_back("trial", kept->text());
    }
    if (*real) {
        if (const Result<void> made = record_real(call, *session, *changes, **real); !made) return made.refusal();
        json.emplace_back("real", call.option("--real"));
    }
    if (call.json()) {
        print(pretty_json(json));
        return status_of(proposal->derived);
    }
    print(text);
    if (kept)
        say_trial_kept(call, words, *kept);
    else
        print_line(words, what_was_saved(*real));
    return status_of(proposal->derived);
}

}  // namespace tapwright::cli
