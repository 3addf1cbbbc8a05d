// faults: what explains all that was read and heard of a line, and what to measure next. Nothing is written.
#include <algorithm>
#include <limits>

#include "core/base/text.h"
#include "core/calc/wiring.h"
#include "core/job/json.h"
#include "core/readings/with_without.h"
#include "core/words/faults_text.h"
#include "core/words/place_name.h"
#include "platform/cli/command.h"
#include "platform/cli/conclusions.h"
#include "platform/cli/report.h"

namespace tapwright::cli {
namespace {

constexpr const char* with_example = "--with J-110:ohms=200";

std::optional<Measured> quantity_named(std::string_view word) {
    const auto& words = ChoiceWords<Measured>::words;
    for (std::size_t i = 0; i < std::size(words); ++i)
        if (words[i] == word) return static_cast<Measured>(i);
    return std::nullopt;
}

bool is_on_line(const Job& job, const Derived& derived, const Id& at, const Id& zone) {
    const auto place = job.place<Point>(at);
    return at == zone || (place && derived.points[*place].zone == *job.place<Zone>(zone));
}

// Nothing that is given is passed over: what was heard and seen is so of one loudspeaker.
Result<void> check_is_speaker(const Job& job, const Id& at, const Id& zone) {
    const Point* point = job.find<Point>(at);
    if (point && point->kind == PointKind::speaker) return done();
    return Refusal{Message("{place} is no loudspeaker of {zone}. Name the one that was listened to or looked at.",
                           {{"place", place_name(job, at)}, {"zone", place_name(job, zone)}})};
}

Result<void> take_heard(const std::string& text, const Id& at, FaultQuestion& question) {
    const auto& words = ChoiceWords<Heard>::words;
    for (std::size_t i = 0; i < std::size(words); ++i)
        if (words[i] == text) {
            question.heard.push_back({at, static_cast<Heard>(i)});
            return done();
        }
    return none_of("heard", text, {words.begin(), words.end()});
}

// What the line's impedance is without that loudspeaker, against the latest reading with it: the watts it draws.
Result<void> take_without(const std::string& text, const Id& at, const Job& job, const Derived& derived,
                          FaultQuestion& question) {
    const Argument name = place_name(job, at);
    const auto place = job.place<Point>(at);
    const std::uint32_t zone = *job.place<Zone>(question.zone);
    if (!place || derived.points[*place].zone != zone || job.all<Point>()[*place].kind != PointKind::speaker)
        return Refusal{Message("{place} is no loudspeaker of {zone}. Name the one that was disconnected.",
                               {{"place", name}, {"zone", place_name(job, question.zone)}})};
    Map fields;
    TAPWRIGHT_PASS(add_figure(Measured::ohms, text, fields));
    double without = std::numeric_limits<double>::infinity();
    for (const auto& [key, field] : fields)
        if (key == "value") without = *field.number();
    std::optional<double> with;
    Percent meter = meter_accuracy(Reading{});
    if (const auto latest = latest_valid_at(job, derived, question.zone)) {
        const Reading& reading = job.all<Reading>()[*latest];
        with = reading.value;
        meter = std::max(meter, meter_accuracy(reading));
    }
    for (const Reading& reading : question.with)
        if (reading.at == question.zone && reading.quantity == Measured::ohms && reading.value) with = reading.value;
    if (!with || !(*with > 0) || !(without > 0))
        return Refusal{
            Message("{zone} was not read with {speaker} on it. Read it with everything connected first, or "
                    "give that reading before this one.",
                    {{"zone", place_name(job, question.zone)}, {"speaker", name}})};
    const Volts line = wire(job).zones[zone].line_v;
    const LoadBetween between = load_between(line, Ohms(*with), Ohms(without), meter, nullptr);
    question.loads.push_back({at, between.watts, between.error});
    return done();
}

// "C-104:heard=silent", "J-110:ohms=200": the place may hold a colon itself, so the last one parts them.
Result<void> take_with(const std::string& text, const Job& job, const Derived& derived, FaultQuestion& question) {
    const std::size_t equals = text.find('=');
    const std::size_t colon = equals == std::string::npos ? equals : text.rfind(':', equals);
    if (colon == std::string::npos || colon == 0)
        return Refusal{Message("\"{text}\" is not AT:QUANTITY=VALUE. Write for example {example}.",
                               {{"text", entered(cited(text))}, {"example", code(with_example)}})};
    TAPWRIGHT_TAKE(at, record_named(job, text.substr(0, colon), {Kind::zone, Kind::point}));
    const std::string name = text.substr(colon + 1, equals - colon - 1);
    const std::string value = text.substr(equals + 1);
    if (name != "without" && !is_on_line(job, derived, at, question.zone))
        return Refusal{Message("{place} is not on the line of {zone}. Name {zone} or a point of it.",
                               {{"place", place_name(job, at)}, {"zone", place_name(job, question.zone)}})};
    if (name == "heard" || name == "tap_w") TAPWRIGHT_PASS(check_is_speaker(job, at, question.zone));
    if (name == "heard") return take_heard(value, at, question);
    if (name == "without") return take_without(value, at, job, derived, question);
    const std::optional<Measured> quantity = quantity_named(name);
    const bool is_used = quantity && *quantity != Measured::stray_v && *quantity != Measured::level_dba &&
                         *quantity != Measured::noise_dba;
    if (!is_used)
        return none_of("quantity", name,
                       {"ohms", "dc_ohms", "volts", "earth_ohms", "cross_ohms", "tap_w", "heard", "without"});
    Map fields;
    TAPWRIGHT_PASS(add_figure(*quantity, value, fields));
    Reading reading;
    reading.at = at;
    reading.quantity = *quantity;
    reading.isolated = true;
    if (*quantity == Measured::volts) reading.signal = Signal::tone;
    for (const auto& [key, field] : fields) {
        if (key == "value") reading.value = *field.number();
        if (key == "over_range") reading.over_range = true;
    }
    if (*quantity == Measured::ohms && reading.value == 0.0)
        return Refusal{Message("Impedance is above 0 Ω. For a dead short write what the meter shows, such as 0.1 Ω.")};
    if (*quantity == Measured::tap_w && !reading.value)
        return Refusal{Message("{quantity} needs a figure, for example {example}.",
                               {{"quantity", code(name)}, {"example", code("tap_w=5")}})};
    if (*quantity == Measured::tap_w)
        question.taps.push_back({at, Watts(*reading.value)});
    else
        question.with.push_back(reading);
    return done();
}

Value ids_of(const Job& job, const Diagnosis& diagnosis, const Cause& cause) {
    List ids;
    for (const Fault& fault : cause.faults) {
        if (fault.points.empty()) ids.emplace_back(diagnosis.line().zone_id.text());
        for (const std::uint32_t point : fault.points) ids.emplace_back(job.all<Point>()[point].id.text());
    }
    return ids;
}

std::string kind_of(const Cause& cause) {
    if (cause.faults.empty()) return std::string(word(FaultKind::none));
    std::string kind;
    for (const Fault& fault : cause.faults) kind += (kind.empty() ? "" : "+") + std::string(word(fault.kind));
    return kind;
}

std::string unit_key(Unit unit) {
    return unit == Unit::none ? "" : std::string(words_of(unit).symbol);
}

Map cause_json(const Job& job, const Diagnosis& diagnosis, const Cause& cause) {
    const bool has_value = cause.faults.size() == 1 && cause.faults.front().value && !cause.faults.front().is_off;
    List explains;
    for (const Explained& one : diagnosis.explains(cause)) {
        const Look& look = diagnosis.line().looks[one.look];
        explains.emplace_back(Map{{"at", look.at.text()}, {"predicted", json_of(one.predicted)}, {"read", look.ohms}});
    }
    return Map{{"kind", kind_of(cause)},
               {"at", ids_of(job, diagnosis, cause)},
               {"value", has_value ? Value(*cause.faults.front().value) : Value()},
               {"unit", has_value ? Value(unit_key(cause.faults.front().unit)) : Value()},
               {"chance", cause.chance},
               {"explains", std::move(explains)},
               {"text", in_english(text_of(job, diagnosis, cause))}};
}

List used_json(const Job& job, const Diagnosis& diagnosis) {
    List used;
    const auto add = [&](const std::optional<std::uint32_t>& reading, const Id& at, Measured quantity, Value value) {
        used.emplace_back(
            Map{{reading ? "reading" : "with", reading ? Value(job.all<Reading>()[*reading].id.text()) : Value(true)},
                {"at", at.text()},
                {"quantity", std::string(word(quantity))},
                {"value", std::move(value)}});
    };
    const FaultLine& line = diagnosis.line();
    for (const Look& look : line.looks)
        add(look.reading, look.at, look.quantity, look.is_over_range ? Value() : Value(look.ohms));
    for (const VoltsLook& look : line.volts) add(look.reading, look.at, Measured::volts, look.volts);
    for (const auto& [reading, quantity] : {std::pair(line.insulation_reading, Measured::earth_ohms),
                                            std::pair(line.parting_reading, Measured::cross_ohms)})
        if (reading) {
            const Reading& record = job.all<Reading>()[*reading];
            add(reading, *record.at, quantity, record.value ? Value(*record.value) : Value());
        }
    return used;
}

List heard_json(const Job& job, const Diagnosis& diagnosis) {
    List heard;
    const FaultLine& line = diagnosis.line();
    for (std::uint32_t i = 0; i < line.heard.size(); ++i)
        if (line.heard[i])
            heard.emplace_back(
                Map{{"point", job.all<Point>()[line.wiring.order[line.wiring.zones[line.zone].first + i]].id.text()},
                    {"state", std::string(word(*line.heard[i]))}});
    return heard;
}

List next_json(const Job& job, const std::vector<Measurement>& next) {
    List list;
    for (const Measurement& measurement : next) list.emplace_back(measurement_json(job, measurement));
    return list;
}

// How many causes are shown: those of at least 1 %.
std::size_t shown_of(const Diagnosis& diagnosis) {
    const auto& causes = diagnosis.causes();
    return static_cast<std::size_t>(
        std::find_if(causes.begin(), causes.end(), [](const Cause& one) { return one.chance < least_chance_shown; }) -
        causes.begin());
}

Map faults_json(const Job& job, const Diagnosis& diagnosis, const std::vector<Measurement>& next) {
    List causes;
    double others = 1 - diagnosis.unexplained();
    for (std::size_t i = 0; i < shown_of(diagnosis); ++i) {
        causes.emplace_back(cause_json(job, diagnosis, diagnosis.causes()[i]));
        others -= diagnosis.causes()[i].chance;
    }
    return Map{{"zone", diagnosis.line().zone_id.text()},
               {"used", used_json(job, diagnosis)},
               {"heard", heard_json(job, diagnosis)},
               {"causes", std::move(causes)},
               {"others", std::max(0.0, others)},
               {"unexplained", diagnosis.unexplained()},
               {"next", next_json(job, next)},
               {"text", in_english(statement_of(job, diagnosis, next).text)}};
}

// What each likely cause would show at the first of the next measurements.
void print_expected(const Words& words, const Job& job, const Measurement& first) {
    std::vector<Row> rows{{in_context("column", "reading"), in_context("column", "would mean cause")}};
    for (const ExpectedShown& shown : first.expected) {
        std::vector<Argument> causes;
        for (const std::uint32_t cause : shown.causes) causes.emplace_back(cause + 1);
        rows.push_back({text_of(job, first, shown), Message(series(causes, Series::Last::with_or))});
    }
    print("\n" + columns(words, rows, 2));
}

void print_faults(const Words& words, const Job& job, const Diagnosis& diagnosis,
                  const std::vector<Measurement>& next) {
    const Statement statement = statement_of(job, diagnosis, next);
    print_line(words, statement.text);
    std::vector<Row> rows{{in_context("column", "no."), in_context("column", "chance"), in_context("column", "cause")}};
    for (std::size_t i = 0; i < shown_of(diagnosis); ++i) {
        const Cause& cause = diagnosis.causes()[i];
        rows.push_back({Message(Count{static_cast<std::int64_t>(i + 1)}),
                        Message(Figure{cause.chance * 100, Unit::percent, 0, Rounding::down}),
                        text_of(job, diagnosis, cause)});
    }
    if (diagnosis.unexplained() >= least_chance_shown)
        rows.push_back({Message(), Message(Figure{diagnosis.unexplained() * 100, Unit::percent, 0, Rounding::down}),
                        Message("Something else.")});
    print("\n" + columns(words, rows, 3));
    if (!next.empty()) print_expected(words, job, next.front());
    print("\n");
    print_line(words, statement.why);
}

}  // namespace

Result<int> find_faults(const Call& call) {
    const Result<Session> session = Session::open(call.arguments[0], Access::read);
    if (!session) return session.refusal();
    const Job& job = session->job();
    FaultQuestion question;
    TAPWRIGHT_TAKE(zone, record_named(job, call.arguments[1], {Kind::zone}));
    question.zone = zone;
    for (const std::string& text : call.all("--with"))
        if (const Result<void> taken = take_with(text, job, session->derived(), question); !taken)
            return placed(code("--with"), taken.refusal());
    NextOptions options;
    options.equal_costs = call.has("--equal");
    if (call.has("--only")) {
        options.only = asked_named(call.option("--only"));
        if (!options.only) return none_of("--only", call.option("--only"), {"ohms", "dc_ohms", "heard", "tap_w"});
    }
    const Result<Diagnosis> diagnosis = Diagnosis::of(job, session->derived(), question);
    if (!diagnosis) return diagnosis.refusal();
    NextMeasurement search(job, *diagnosis, options);
    while (search.step()) {
    }
    const std::vector<Measurement> next = search.best();
    if (call.json())
        print(pretty_json(faults_json(job, *diagnosis, next)));
    else
        print_faults(call.words_for(job), job, *diagnosis, next);
    return fine;
}

}  // namespace tapwright::cli
