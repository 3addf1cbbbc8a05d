// read: keeps a reading and judges it, or with `dry` only judges it.
#include <algorithm>
#include <limits>
#include <set>

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/readings/readings.h"
#include "core/readings/with_without.h"
#include "core/units/parse.h"
#include "core/words/between_text.h"
#include "core/words/cautions.h"
#include "core/words/readings_text.h"
#include "platform/cli/command.h"
#include "platform/cli/conclusions.h"
#include "platform/cli/report.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

struct Draft {
    Map fields;
    bool has_figure = false;
    bool dry = false;
};

std::optional<Measured> quantity_of(std::string_view word) {
    const auto& words = ChoiceWords<Measured>::words;
    for (std::size_t i = 0; i < std::size(words); ++i)
        if (words[i] == word) return static_cast<Measured>(i);
    return std::nullopt;
}

// With the name of what it was given for in front of a refusal.
Result<Value> placed_value(const std::string& name, const Result<Value>& value) {
    if (!value) return placed(code(name), value.refusal());
    return value;
}

// What meters show beyond their range: "OL", "O.L MΩ", "OVER".
bool is_over_range(std::string_view figure, Unit unit) {
    const std::size_t blank = figure.find_last_of(' ');
    if (blank != std::string_view::npos && find_spelling(unit, trimmed(figure.substr(blank))))
        figure = trimmed(figure.substr(0, blank));
    std::string shown;
    for (const char c : figure) shown += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    for (const std::string_view known : {"OL", "O.L", "O.L.", "0L", "0.L", "OVER", "OVLD", "OVERLOAD"})
        if (shown == known) return true;
    return false;
}

}  // namespace

// "ohms=92.5", "ohms=1k2", "earth_ohms=40 MΩ", "ohms=OL": the quantity and its figure, as its meter shows it.
Result<void> add_figure(Measured quantity, const std::string& text, Map& fields) {
    const std::string name(word(quantity));
    const std::string_view figure = trimmed(text);
    if (figure.empty())
        return Refusal{Message("{quantity} needs a figure, for example {example}.",
                               {{"quantity", code(name)}, {"example", code(name + "=92.5")}})};
    fields.emplace_back("quantity", name);
    const Unit unit = unit_of_reading(quantity);
    if (is_over_range(figure, unit)) {
        fields.emplace_back("over_range", true);
        return done();
    }
    const Result<double> number = parse_number(figure, unit);
    if (!number) return placed(code(name), number.refusal());
    const Result<void> form = check_form(*find_field(Kind::reading, "value"), Value(*number));
    if (!form) return placed(code(name), form.refusal());
    fields.emplace_back("value", *number);
    return done();
}

namespace {

// One of the fields that say how it was measured.
Result<void> add_field(const std::string& name, const std::string& text, const Job& job, Map& fields) {
    const FieldInfo* field = find_field(Kind::reading, name);
    if (!field || name == "at" || name == "quantity" || name == "value" || name == "expected_ohm") {
        std::vector<Argument> known;
        std::vector<std::string> words(std::begin(ChoiceWords<Measured>::words),
                                       std::end(ChoiceWords<Measured>::words));
        for (const std::string_view one : {"hz", "knobs", "instrument", "isolated", "override", "signal", "baseline",
                                           "over_range", "range_ohm", "meter_pct", "time", "notes"}) {
            known.emplace_back(code(one));
            words.emplace_back(one);
        }
        return Refusal{
            sentences({Message("A reading has no {name}.", {{"name", entered(cited(name))}}), did_you_mean(name, words),
                       Message("Give the figure as {figure}, and {fields}.",
                               {{"figure", code("ohms=92.5")}, {"fields", series(known, Series::Last::with_or)}})})};
    }
    TAPWRIGHT_TAKE(value, placed_value(name, value_for(job, *field, text)));
    fields.emplace_back(name, value);
    return done();
}

// "ohms=92.5 hz=1000 dry" as the fields of a reading.
Result<Draft> draft_from(const Call& call, const Job& job) {
    Draft draft;
    std::set<std::string> typed;
    for (const std::string& text : std::span(call.arguments).subspan(2)) {
        if (text == "dry") {
            draft.dry = true;
            continue;
        }
        const std::size_t equals = text.find('=');
        if (equals == std::string::npos)
            return Refusal{Message("\"{text}\" is not understood. Write for example {example}.",
                                   {{"text", entered(cited(text))}, {"example", code("ohms=92.5 hz=1000 dry")}})};
        const std::string name = text.substr(0, equals);
        const std::string value = text.substr(equals + 1);
        if (!typed.insert(name).second) return given_twice(name);
        const std::optional<Measured> quantity = quantity_of(name);
        if (quantity && draft.has_figure)
            return Refusal{Message("A reading has one figure. Take one reading for each.")};
        draft.has_figure |= quantity.has_value();
        TAPWRIGHT_PASS(quantity ? add_figure(*quantity, value, draft.fields)
                                : add_field(name, value, job, draft.fields));
    }
    for (std::size_t i = 0; i < draft.fields.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (draft.fields[i].first == draft.fields[j].first) return given_twice(draft.fields[i].first);
    TAPWRIGHT_TAKE(at, record_named(job, call.arguments[1], find_field(Kind::reading, "at")->rule.may_refer_to));
    draft.fields.emplace(draft.fields.begin(), "at", at.text());
    return draft;
}

// The line a place is on: its zone, else the place itself.
Id line_of(const Job& job, const Derived& derived, const Id& at) {
    const auto point = job.place<Point>(at);
    const std::uint32_t zone = point ? derived.points[*point].zone : nowhere;
    return zone == nowhere ? at : job.all<Zone>()[zone].id;
}

// What to mind, once for each line of a stay: nothing where such a reading stands there already.
std::vector<Caution> cautions_before(const Job& job, const Derived& derived, std::uint32_t reading) {
    const Reading& taken = job.all<Reading>()[reading];
    const std::optional<CautionMoment> moment = moment_before(*taken.quantity);
    if (!moment) return {};
    const Id line = line_of(job, derived, *taken.at);
    for (const Reading& other : job.all<Reading>())
        if (other.id != taken.id && other.at && other.quantity && moment_before(*other.quantity) == moment &&
            line_of(job, derived, *other.at) == line && is_same_stay(other, taken))
            return {};
    return cautions_for(*moment, job, derived, *taken.at);
}

Map reading_json(const Job& job, const Derived& derived, std::uint32_t reading, const Statement& said) {
    const Judgement& judgement = derived.readings[reading];
    Map map{{"expected_ohms", json_of(judgement.expected)},
            {"low_ohms", json_of(judgement.low)},
            {"high_ohms", json_of(judgement.high)},
            {"measured_w", json_of(judgement.measured)},
            {"expected_w", json_of(judgement.expected_w)},
            {"difference_w", json_of(judgement.difference)},
            {"verdict", std::string(word(judgement.verdict))},
            {"limit", std::string(word(judgement.limit))},
            {"text", in_english(said.text)},
            {"why", in_english(said.why)}};
    FaultAdvice advice(job, derived);
    for (auto& [key, value] : conclusions_json(job, derived, reading, &advice)) map.emplace_back(key, std::move(value));
    return map;
}

// The loudspeaker that --without names.
Result<Id> speaker_without(const Job& job, const std::string& text) {
    Result<Id> id = record_named(job, text, {Kind::point});
    if (!id) return placed(code("--without"), id.refusal());
    if (job.find<Point>(*id)->kind == PointKind::speaker) return id;
    return placed(code("--without"), Refusal{Message("{point} is no loudspeaker. Name the one that was disconnected.",
                                                     {{"point", entered(name_of(job, *id))}})});
}

// A reading of the line without that loudspeaker, which is held against the record without it.
struct WithoutIt {
    Id speaker;
    LoadBetween between;
    Statement said;
};

// The load between the latest valid reading of the same place and this one. Requires: `at` is the new reading's place
// in `proposal`. Errors: none before, or the two cannot be compared.
Result<WithoutIt> held_against_before(const Session& session, const Proposal& proposal, std::uint32_t at,
                                      const Id& speaker) {
    const Reading& now = proposal.job.all<Reading>()[at];
    const ReadingPair pair =
        pair_without(session.job(), session.derived(), speaker, now, proposal.derived.readings[at]);
    const Statement said =
        statement_of(session.job(), speaker, pair, now, statement_of(proposal.job, proposal.derived, at).text);
    if (pair.fault == PairFault::none) return WithoutIt{speaker, pair.between, said};
    if (pair.fault != PairFault::no_reading_with && pair.fault != PairFault::without_unproven)
        return Refusal{said.text};
    return Refusal{sentences({said.text, Message("Note it with {isolated}.", {{"isolated", code("isolated=yes")}})})};
}

Map between_json(const WithoutIt& made) {
    List taps;
    for (const TapBetween& tap : made.between.taps)
        taps.emplace_back(Map{{"tap_w", json_of(tap.tap)}, {"within", tap.within}});
    const auto& proposed = made.between.proposed;
    return Map{{"watts", json_of(made.between.watts)},
               {"error_w", json_of(made.between.error)},
               {"taps", std::move(taps)},
               {"proposed_w", proposed ? json_of(made.between.taps[*proposed].tap) : Value()}};
}

// --without: what the two readings say. Nothing is saved, for the line was not as the record has it.
Result<int> compare_without(const Call& call, const Session& session, const Draft& draft, const Author& author) {
    TAPWRIGHT_TAKE(speaker, speaker_without(session.job(), call.option("--without")));
    const Command command{.changes = {Change{ChangeOp::set, Kind::point, speaker, {{"wired", "off"}}},
                                      Change{ChangeOp::add, Kind::reading, {}, draft.fields}},
                          .fill_in = true,
                          .place = {}};
    TAPWRIGHT_TAKE(proposal, session.propose(command, author, make_stamp()));
    const std::uint32_t at = *proposal.job.place<Reading>(proposal.ids.back());
    TAPWRIGHT_TAKE(made, held_against_before(session, proposal, at, speaker));
    if (call.json()) {
        Map map = reading_json(proposal.job, proposal.derived, at, statement_of(proposal.job, proposal.derived, at));
        map.emplace_back("between", between_json(made));
        print(pretty_json(std::move(map)));
        return status_of(session.derived());
    }
    const Words words = call.words_for(session.job());
    print_line(words, made.said.text);
    if (call.has("--why")) print_line(words, made.said.why);
    if (made.between.proposed)
        print_line(
            words,
            Message("To record it: {set}.",
                    {{"set", code("`tapwright set " + shell_word(call.arguments[0]) + " " + speaker.text() + " tap_w=" +
                                  shortest(made.between.taps[*made.between.proposed].tap.value()) + "`")}}));
    print_line(words, Message("Nothing was saved."));
    return status_of(session.derived());
}

}  // namespace

Result<int> take_reading(const Call& call) {
    const auto words_given = std::span(call.arguments).subspan(2);
    const bool saves =
        !call.has("--without") && std::find(words_given.begin(), words_given.end(), "dry") == words_given.end();
    Result<Session> session = Session::open(call.arguments[0], saves ? Access::write : Access::read);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(draft, draft_from(call, session->job()));
    TAPWRIGHT_TAKE(author, author_for(call, *session));
    if (call.has("--without")) return compare_without(call, *session, draft, author);
    const Command command{
        .changes = {Change{ChangeOp::add, Kind::reading, {}, draft.fields}}, .fill_in = true, .place = {}};
    const Stamp stamp = make_stamp();
    TAPWRIGHT_TAKE(proposal, session->propose(command, author, stamp));
    const std::uint32_t at = *proposal.job.place<Reading>(proposal.ids.back());
    const Statement said = statement_of(proposal.job, proposal.derived, at);
    if (!draft.dry) TAPWRIGHT_PASS(session->request(command, author, stamp));
    if (call.json()) {
        print(pretty_json(reading_json(proposal.job, proposal.derived, at, said)));
        return status_of(proposal.derived);
    }
    const Words words = call.words_for(proposal.job);
    std::int64_t number = 0;
    for (const Caution& caution : cautions_before(proposal.job, proposal.derived, at))
        print_line(words, Message("{number}. {caution}", {{"number", ++number}, {"caution", caution.text}}));
    print_line(words, said.text);
    if (call.has("--why") && !said.why.empty()) print_line(words, said.why);
    print_line(words, draft.dry ? Message("Nothing was saved.") : Message("Saved."));
    if (!draft.dry && can_be_sought(proposal.job, proposal.derived, at))
        print_line(
            words,
            Message(
                "To find it: {command}.",
                {{"command",
                  code("`tapwright faults " + shell_word(call.arguments[0]) + " " +
                       line_of(proposal.job, proposal.derived, *proposal.job.all<Reading>()[at].at).text() + "`")}}));
    return status_of(proposal.derived);
}

}  // namespace tapwright::cli
