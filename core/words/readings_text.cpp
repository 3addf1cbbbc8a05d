#include "core/words/readings_text.h"

#include "core/readings/assessment.h"
#include "core/readings/order.h"
#include "core/readings/readings.h"
#include "core/words/expected_text.h"
#include "core/words/reading_parts.h"
#include "core/words/words.h"

namespace tapwright {
namespace {

bool is_held_against_record(const Judgement& judgement) {
    return judgement.verdict != Verdict::not_judged ||
           (judgement.unjudged != Unjudged::not_compared && judgement.unjudged != Unjudged::no_place);
}

// A limit that is broken comes before whatever the record says.
Message sentences_on(const ReadingSubject& subject) {
    const bool within = subject.judgement.limit == LimitState::ok || subject.judgement.verdict == Verdict::shorted;
    return sentences({verdict_sentence(subject), within ? verdict_step(subject) : limit_step(subject)});
}

Statement statement_about(const ReadingSubject& subject) {
    if (!is_held_against_record(subject.judgement)) return plain_statement(subject.job, subject.reading);
    return {sentences_on(subject), reading_reasons(subject)};
}

// On a zone's line or at one of its points, with more than one loudspeaker that could be it.
bool can_be_sought(const Job& job, const Reading& reading, const Judgement& judgement) {
    if (!asks_where_next(judgement) || judgement.speakers < 2 || !reading.at) return false;
    return job.has(Kind::zone, *reading.at) || job.has(Kind::point, *reading.at);
}

// What is not recorded of what is seen from where it was taken, and of that once all that is planned is connected.
struct Seen {
    NotRecorded now, of_all;
};

Seen not_recorded_at(const Job& job, const Derived& derived, const std::optional<Id>& at) {
    if (!at) return {};
    if (const auto zone = job.place<Zone>(*at))
        return {derived.zones[*zone].not_recorded, missing_of_all(derived.zones[*zone])};
    if (const auto channel = job.place<Channel>(*at))
        return {missing_of(derived, *channel), missing_of_all(derived, *channel)};
    if (const auto point = job.place<Point>(*at))
        return {derived.points[*point].not_recorded, missing_of_all(derived.points[*point])};
    return {};
}

// Positions that were noted with it are known.
NotRecorded as_read(NotRecorded missing, const Reading& reading) {
    if (reading.knobs) missing.positions = 0;
    return missing;
}

}  // namespace

std::unordered_map<std::string_view, std::uint32_t> newest_readings(const Job& job, const Derived& derived) {
    std::unordered_map<std::string_view, std::uint32_t> newest;
    for (const std::uint32_t i : in_order_taken(job))
        if (derived.readings[i].verdict != Verdict::not_judged)
            newest.insert_or_assign(job.all<Reading>()[i].at->text(), i);
    return newest;
}

bool can_be_sought(const Job& job, const Derived& derived, std::size_t reading) {
    return can_be_sought(job, job.all<Reading>()[reading], derived.readings[reading]);
}

NotRecorded missing_for(const Job& job, const Derived& derived, const Reading& reading) {
    return as_read(not_recorded_at(job, derived, reading.at).now, reading);
}

NotRecorded missing_for(const Job& job, const Derived& derived, std::size_t reading) {
    if (derived.readings[reading].expected_now) return {};
    return missing_for(job, derived, job.all<Reading>()[reading]);
}

NotRecorded missing_of_all_for(const Job& job, const Derived& derived, const Reading& reading) {
    return as_read(not_recorded_at(job, derived, reading.at).of_all, reading);
}

bool ReadingWords::is_newest(std::size_t reading) const {
    const auto& at = job_.all<Reading>()[reading].at;
    if (!at) return false;
    if (newest_.empty()) newest_ = newest_readings(job_, derived_);
    const auto found = newest_.find(at->text());
    return found != newest_.end() && found->second == reading;
}

const Wiring& ReadingWords::wiring() const {
    if (!wiring_) wiring_ = wire(job_);
    return *wiring_;
}

NotRecorded ReadingWords::not_recorded_for(std::size_t reading) const {
    return is_newest(reading) ? missing_for(job_, derived_, reading) : NotRecorded();
}

ReadingSubject ReadingWords::subject_of(std::size_t reading) const {
    ReadingSubject subject{job_, job_.all<Reading>()[reading], derived_.readings[reading]};
    subject.not_recorded = not_recorded_for(reading);
    return subject;
}

Statement ReadingWords::statement_of(std::size_t reading) const {
    ReadingSubject subject = subject_of(reading);
    subject.is_sought = is_newest(reading) && can_be_sought(job_, derived_, reading);
    return statement_about(subject);
}

Statement ReadingWords::verdict_of(std::size_t reading) const {
    ReadingSubject subject = subject_of(reading);
    subject.is_sought = can_be_sought(job_, derived_, reading);
    return {sentences({verdict_sentence(subject), verdict_step(subject)}), reading_reasons(subject)};
}

Statement ReadingWords::limit_of(std::size_t reading) const {
    const ReadingSubject subject = subject_of(reading);
    return {limit_sentence(subject), reading_reasons(subject)};
}

Statement statement_of(const Job& job, const Derived& derived, std::size_t reading) {
    return ReadingWords(job, derived).statement_of(reading);
}

Statement statement_of(const Job& job, const Derived& derived, const Reading& draft, const Judgement& judgement) {
    ReadingSubject subject{job, draft, judgement};
    subject.not_recorded = missing_for(job, derived, draft);
    subject.is_sought = can_be_sought(job, draft, judgement);
    return statement_about(subject);
}

std::string sentence(const Job& job, const Derived& derived, std::size_t reading) {
    const Statement statement = statement_of(job, derived, reading);
    return in_english(sentences({statement.text, statement.why}));
}

std::string sentence(const Job& job, const Derived& derived, const Reading& draft, const Judgement& judgement) {
    const Statement statement = statement_of(job, derived, draft, judgement);
    return in_english(sentences({statement.text, statement.why}));
}

}  // namespace tapwright
