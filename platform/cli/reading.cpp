// read: keeps a reading and judges it, or with `dry` only judges it.
#include "core/base/text.h"
#include "core/readings/readings.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"
#include "platform/system/stamps.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"

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
        const std::string name = text.substr(0, equals);
        if (equals == std::string::npos)
            return Refusal{cited(text) + " is not understood; write ohms=92.5, hz=1000, knobs=... or dry."};
        if (is_quantity(name)) {
            draft.fields.emplace_back("quantity", name);
            const Result<Value> value = value_from_text(*find_field(Kind::reading, "value"), text.substr(equals + 1));
            if (!value) return placed(entered(name), value.refusal());
            if (value->is_null()) return Refusal{name + " needs a figure, for example " + name + "=92.5."};
            draft.fields.emplace_back("value", *value);
            continue;
        }
        const FieldInfo* field = find_field(Kind::reading, name);
        if (!field || name == "at" || name == "quantity" || name == "value" || name == "expected_ohm")
            return Refusal{cited(name) +
                           " is nothing a reading has; give the figure as ohms=92.5, and hz, knobs, instrument, "
                           "isolated, override, signal, baseline, over_range, time or notes."};
        const Result<Value> value = value_from_text(*field, text.substr(equals + 1), length_units(job));
        if (!value) return placed(entered(name), value.refusal());
        draft.fields.emplace_back(name, *value);
    }
    for (std::size_t i = 0; i < draft.fields.size(); ++i)
        for (std::size_t j = 0; j < i; ++j)
            if (draft.fields[i].first == draft.fields[j].first)
                return Refusal{"Two figures or two values for " + draft.fields[i].first +
                               " were given; a reading has one."};
    return draft;
}

Map reading_json(const Judgement& judgement, const std::string& text) {
    return Map{{"expected_ohms", json_of(judgement.expected)},
               {"low_ohms", json_of(judgement.low)},
               {"high_ohms", json_of(judgement.high)},
               {"measured_w", json_of(judgement.measured)},
               {"expected_w", json_of(judgement.expected_w)},
               {"difference_w", json_of(judgement.difference)},
               {"verdict", std::string(word(judgement.verdict))},
               {"limit", std::string(word(judgement.limit))},
               {"text", text}};
}

}  // namespace

Result<int> take_reading(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    const Result<Draft> draft = draft_from(call, session->job());
    if (!draft) return draft.refusal();
    const Result<Author> author = author_for(call, *session);
    if (!author) return author.refusal();
    const Command command{
        .changes = {Change{ChangeOp::add, Kind::reading, {}, draft->fields}}, .fill_in = true, .place = {}};
    const Stamp stamp = make_stamp();
    const Result<Proposal> proposal = session->propose(command, *author, stamp);
    if (!proposal) return proposal.refusal();
    const Id id = proposal->ids.back();
    const std::uint32_t at = *proposal->job.place<Reading>(id);
    const Judgement& judgement = proposal->derived.readings[at];
    const std::string text = sentence(proposal->job, proposal->derived, at);
    if (!draft->dry)
        if (const Result<Outcome> kept = session->request(command, *author, stamp); !kept) return kept.refusal();
    print(call.json() ? pretty_json(reading_json(judgement, text))
                      : text + (draft->dry ? "\nNothing was kept.\n" : "\nKept.\n"));
    return status_of(proposal->derived);
}

}  // namespace tapwright::cli
