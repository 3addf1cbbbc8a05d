// The parts of what a reading says. Used by readings_text.cpp alone.
#pragma once

#include "core/readings/judgement.h"
#include "core/units/unit.h"
#include "core/words/statement.h"

namespace tapwright {

struct ReadingSubject {
    const Job& job;
    const Reading& reading;
    const Judgement& judgement;
    bool is_sought = false;      // it is the newest at a place whose line can be searched for the fault
    NotRecorded not_recorded{};  // what makes the expected impedance a bound
};

// Whether something is wrong that can be sought: core/faults says where, and what to measure next.
bool asks_where_next(const Judgement& judgement);

// Requires, all of them: the reading is judged against the record, or could not be for its frequency or missing taps.
Message verdict_sentence(const ReadingSubject& subject);
Message verdict_step(const ReadingSubject& subject);
// Requires: judgement.limit is not ok.
Message limit_sentence(const ReadingSubject& subject);
Message limit_step(const ReadingSubject& subject);
Message reading_reasons(const ReadingSubject& subject);

// Of a reading that is kept and never compared with the record.
Statement plain_statement(const Job& job, const Reading& reading);

// "138 Ω", or "over 2 kΩ" where the meter's range ended.
Argument figure_read(const Reading& reading, Unit unit);
// "+16.5 %", "−3 %", "4.2 times".
Message deviation(Percent off);

}  // namespace tapwright
