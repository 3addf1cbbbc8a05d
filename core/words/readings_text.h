// What a reading says: the verdict with its figures and the next step; behind "Why" what it draws, the conditions, the
// baseline, and what it proves and cannot.
#pragma once

#include <string_view>
#include <unordered_map>

#include "core/calc/wiring.h"
#include "core/derive/derived.h"
#include "core/words/statement.h"

namespace tapwright {

struct ReadingSubject;

// The newest judged reading at each place, by the place's identifier.
std::unordered_map<std::string_view, std::uint32_t> newest_readings(const Job& job, const Derived& derived);

// Whether what does not fit at a reading can be sought (core/faults): its next step is to find the fault, and a key or
// a command that does so belongs beside it. Requires: reading < number of readings.
bool can_be_sought(const Job& job, const Derived& derived, std::size_t reading);

// The statements of all readings of a job, for a list of them: places are looked through once. Only the newest reading
// at a place says to find the fault, for an older one has been acted upon.
class ReadingWords {
public:
    // Neither is owned. Requires: `derived` is derive(job), and both outlive this.
    ReadingWords(const Job& job, const Derived& derived) : job_(job), derived_(derived) {}

    // Requires: reading < number of readings.
    Statement statement_of(std::size_t reading) const;

    // Of the newest judged reading at a place, each by itself: for findings, which tell verdict and limit apart.
    Statement verdict_of(std::size_t reading) const;
    Statement limit_of(std::size_t reading) const;

    // What makes the expected impedance of a reading a bound (bounded()). What is not recorded today says nothing of an
    // older reading.
    NotRecorded not_recorded_for(std::size_t reading) const;

    // The job wired, once.
    const Wiring& wiring() const;

private:
    bool is_newest(std::size_t reading) const;
    ReadingSubject subject_of(std::size_t reading) const;

    const Job& job_;
    const Derived& derived_;
    mutable std::unordered_map<std::string_view, std::uint32_t> newest_;  // newest_readings(); empty until asked
    mutable std::optional<Wiring> wiring_;
};

// One reading of the job, against the record as it stood then. For several: ReadingWords.
Statement statement_of(const Job& job, const Derived& derived, std::size_t reading);
// A reading that is not in the job. Requires: `derived` is derive(job), `judgement` is judge(job, draft).
Statement statement_of(const Job& job, const Derived& derived, const Reading& draft, const Judgement& judgement);

// What makes the expected impedance of a reading at a zone, output or point a bound (bounded()), by the record of
// today.
NotRecorded missing_for(const Job& job, const Derived& derived, const Reading& reading);
// The same of a reading in the job: nothing where the record has changed since, for nobody knows what it was then.
// Requires: reading < number of readings.
NotRecorded missing_for(const Job& job, const Derived& derived, std::size_t reading);
// The same of what is expected once all that is planned is connected (missing_of_all()).
NotRecorded missing_of_all_for(const Job& job, const Derived& derived, const Reading& reading);

// Until their callers carry messages.
std::string sentence(const Job& job, const Derived& derived, std::size_t reading);
std::string sentence(const Job& job, const Derived& derived, const Reading& draft, const Judgement& judgement);

}  // namespace tapwright
