// cable: what a length of cable costs, before any record exists; with a job, on one of its cables. Nothing is written.
#include "core/plan/cable.h"

#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "core/words/cable_text.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

constexpr const char* example = "tapwright cable --load 60 --length 40m --size 1.5mm2 --volts 100";

template <class Q>
Result<void> take(const Call& call, const std::string& option, bool is_needed, Q& figure,
                  LengthUnits lengths = LengthUnits::metric) {
    if (!call.has(option)) {
        if (!is_needed) return done();
        return Refusal{
            Message("Give {option}, for example {example}.", {{"option", code(option)}, {"example", code(example)}})};
    }
    const Result<Q> given = parse<Q>(call.option(option), lengths);
    if (!given) return placed(code(option), given.refusal());
    figure = *given;
    return done();
}

// The cable that is asked for: a size, or one that is recorded in the job.
Result<void> take_cable(const Call& call, const Job* job, CableQuestion& question) {
    if (call.has("--size") && call.has("--cable"))
        return Refusal{Message("{size} and {cable} are two cables. Give one of them.",
                               {{"size", code("--size")}, {"cable", code("--cable")}})};
    if (call.has("--cable")) {
        if (!job)
            return Refusal{Message("{option} is a cable type of a job. Name the job too: {call}.",
                                   {{"option", code("--cable")}, {"call", code("tapwright cable FILE --cable TYPE")}})};
        const Result<Id> id = record_named(*job, call.option("--cable"), {Kind::cable_type});
        if (!id) return placed(code("--cable"), id.refusal());
        const Result<RecordedCable> cable = recorded_cable(*job->find<CableType>(*id), question.celsius);
        if (!cable) return placed(code("--cable"), cable.refusal());
        question.recorded = *cable;
    } else if (call.has("--size")) {
        const Result<ConductorSize> size = parse_conductor_size(call.option("--size"));
        if (!size) return placed(code("--size"), size.refusal());
        question.size = *size;
    }
    return done();
}

// What the job says holds where the call does not: line voltage, allowed loss, temperature and the unit of lengths.
Result<CableQuestion> question_from(const Call& call, const Job* job) {
    CableQuestion question;
    if (job) {
        question.volts = job->info().line_v.value_or(Defaults::line_v);
        question.limit = job->info().loss_limit_db.value_or(Defaults::loss_limit_db);
        question.celsius = job->info().cable_c.value_or(Defaults::cable_c);
    }
    const LengthUnits lengths = job ? length_units(*job) : LengthUnits::metric;
    for (const Result<void>& taken :
         {take(call, "--load", true, question.load), take(call, "--length", true, question.length, lengths),
          take(call, "--volts", job == nullptr, question.volts), take(call, "--limit-db", false, question.limit),
          take_cable(call, job, question)})
        if (!taken) return taken.refusal();
    return question;
}

std::string code_of(const ConductorSize& size) {
    return in_english(Message("{size}", {{"size", as_shown(size)}}));
}

Map cable_json(const CableQuestion& question, const CableAnswer& answer) {
    List sizes;
    for (const CableSize& size : answer.sizes)
        sizes.emplace_back(
            Map{{"size", code_of(size.size)}, {"loss_db", json_of(size.loss)}, {"within_limit", size.keeps}});
    const auto of_asked = [&](auto member) { return answer.asked ? json_of((*answer.asked).*member) : Value(); };
    return Map{{"load_w", json_of(question.load)},
               {"length_m", json_of(question.length)},
               {"volts", json_of(question.volts)},
               {"limit_db", json_of(question.limit)},
               {"celsius", json_of(question.celsius)},
               {"cable", question.recorded ? Value(question.recorded->id.text()) : Value()},
               {"ohm", of_asked(&CableOfSize::pair)},
               {"loss_db", of_asked(&CableOfSize::loss)},
               {"volts_end", of_asked(&CableOfSize::volts_end)},
               {"watts_end", of_asked(&CableOfSize::watts_end)},
               {"watts_lost", of_asked(&CableOfSize::watts_lost)},
               {"longest_m", of_asked(&CableOfSize::longest)},
               {"smallest", answer.smallest ? Value(code_of(*answer.smallest)) : Value()},
               {"sizes", std::move(sizes)},
               {"text", in_english(statement_of(question, answer).text)}};
}

Result<int> answer(const Call& call, const Job* job) {
    TAPWRIGHT_TAKE(question, question_from(call, job));
    TAPWRIGHT_TAKE(made, cable_answer(question));
    if (call.json()) {
        print(pretty_json(cable_json(question, made)));
        return fine;
    }
    const Words words = job ? call.words_for(*job) : call.words;
    const Statement statement = statement_of(question, made);
    print_line(words, statement.text);
    print_line(words, statement.why);
    std::vector<Row> rows{{in_context("column", "size"), in_context("column", "loss"), Message()}};
    for (const CableSize& size : made.sizes)
        rows.push_back({Message("{size}", {{"size", as_shown(size.size)}}), Message(size.loss),
                        size.keeps ? Message("within the limit") : Message("over the limit")});
    print("\n" + columns(words, rows, 1));
    return fine;
}

}  // namespace

Result<int> ask_cable(const Call& call) {
    if (call.arguments.empty()) return answer(call, nullptr);
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    return answer(call, &session->job());
}

}  // namespace tapwright::cli
