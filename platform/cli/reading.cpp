// read: keeps a reading and judges it, or with `dry` only judges it.
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/readings/readings.h"
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
    bool dry = false;
};

bool is_quantity(std::string_view word) {
    for (const std::string_view known : ChoiceWords<Measured>::words)
        if (known == word) return true;
    return false;
}

// With the name of what it was given for in front of a refusal.
Result<Value> placed_value(const std::string& name, const Result<Value>& value) {
    if (!value) return placed(code(name), value.refusal());
    return value;
}

// "ohms=92.5": the quantity and its figure.
Result<void> add_figure(const std::string& name, const std::string& figure, Map& fields) {
    TAPWRIGHT_TAKE(value, placed_value(name, value_from_text(*find_field(Kind::reading, "value"), figure)));
    if (value.is_null())
        return Refusal{Message("{quantity} needs a figure, for example {example}.",
                               {{"quantity", code(name)}, {"example", code(name + "=92.5")}})};
    fields.emplace_back("quantity", name);
    fields.emplace_back("value", value);
    return done();
}

// One of the fields that say how it was measured.
Result<void> add_field(const std::string& name, const std::string& text, const Job& job, Map& fields) {
    const FieldInfo* field = find_field(Kind::reading, name);
    if (!field || name == "at" || name == "quantity" || name == "value" || name == "expected_ohm") {
        std::vector<Argument> known;
        for (const std::string_view one :
             {"hz", "knobs", "instrument", "isolated", "override", "signal", "baseline", "over_range", "time", "notes"})
            known.emplace_back(code(one));
        return Refusal{Message("A reading has no {name}. Give the figure as {figure}, and {fields}.",
                               {{"name", entered(cited(name))},
                                {"figure", code("ohms=92.5")},
                                {"fields", series(known, Series::Last::with_or)}})};
    }
    TAPWRIGHT_TAKE(value, placed_value(name, value_from_text(*field, text, length_units(job))));
    fields.emplace_back(name, value);
    return done();
}

// "ohms=92.5 hz=1000 dry" as the fields of a reading.
Result<Draft> draft_from(const Call& call, const Job& job) {
    Draft draft;
    draft.fields.emplace_back("at", call.arguments[1]);
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
        TAPWRIGHT_PASS(is_quantity(name) ? add_figure(name, value, draft.fields)
                                         : add_field(name, value, job, draft.fields));
    }
    for (std::size_t i = 0; i < draft.fields.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (draft.fields[i].first == draft.fields[j].first) return given_twice(draft.fields[i].first);
    return draft;
}

// The line a place is on: its zone, else the place itself.
Id line_of(const Job& job, const Derived& derived, const Id& at) {
    const auto point = job.place<Point>(at);
    const std::uint32_t zone = point ? derived.points[*point].zone : nowhere;
    return zone == nowhere ? at : job.all<Zone>()[zone].id;
}

// Of one visit; without visits, of one day.
bool is_same_stay(const Reading& one, const Reading& other) {
    if (one.visit || other.visit) return one.visit == other.visit;
    return one.time && other.time && one.time->text.substr(0, 10) == other.time->text.substr(0, 10);
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
    for (auto& [key, value] : conclusions_json(job, derived, wire(job), reading, true))
        map.emplace_back(key, std::move(value));
    return map;
}

}  // namespace

Result<int> take_reading(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(draft, draft_from(call, session->job()));
    TAPWRIGHT_TAKE(author, author_for(call, *session));
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
    return status_of(proposal.derived);
}

}  // namespace tapwright::cli
