// cable: what a length of cable costs, before any record exists. No job is opened.
#include "core/plan/cable.h"

#include "core/base/text.h"
#include "core/job/json.h"
#include "core/words/cable_text.h"
#include "platform/cli/command.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

template <class Q>
Result<void> take(const Call& call, const std::string& option, bool is_needed, Q& figure) {
    if (!call.has(option)) {
        if (!is_needed) return done();
        return Refusal{
            Message("Give {option}, for example {example}.",
                    {{"option", code(option)},
                     {"example", code("tapwright cable --load 60 --length 40m --size 1.5mm2 --volts 100")}})};
    }
    const Result<Q> given = parse<Q>(call.option(option));
    if (!given) return placed(code(option), given.refusal());
    figure = *given;
    return done();
}

Result<CableQuestion> question_from(const Call& call) {
    CableQuestion question;
    for (const Result<void>& taken :
         {take(call, "--load", true, question.load), take(call, "--length", true, question.length),
          take(call, "--volts", true, question.volts), take(call, "--limit-db", false, question.limit)})
        if (!taken) return taken.refusal();
    if (!call.has("--size")) return question;
    const Result<ConductorSize> size = parse_conductor_size(call.option("--size"));
    if (!size) return placed(code("--size"), size.refusal());
    question.size = *size;
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

}  // namespace

Result<int> ask_cable(const Call& call) {
    const Result<CableQuestion> question = question_from(call);
    if (!question) return question.refusal();
    const Result<CableAnswer> answer = cable_answer(*question);
    if (!answer) return answer.refusal();
    if (call.json()) {
        print(pretty_json(cable_json(*question, *answer)));
        return fine;
    }
    const Statement statement = statement_of(*question, *answer);
    print_line(call.words, statement.text);
    print_line(call.words, statement.why);
    std::vector<Row> rows{{in_context("column", "size"), in_context("column", "loss"), Message()}};
    for (const CableSize& size : answer->sizes)
        rows.push_back({Message("{size}", {{"size", as_shown(size.size)}}), Message(size.loss),
                        size.keeps ? Message("within the limit") : Message("over the limit")});
    print("\n" + columns(call.words, rows, 1));
    return fine;
}

}  // namespace tapwright::cli
