// A job to read, and what its newest reading means and says.
#pragma once

#include "core/readings/readings.h"
#include "core/words/readings_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"
#include "tests/findings/plain_words.h"

namespace tapwright {

// 12 x 5 W at 70.7 V: 83.31 ohm expected, 66.65 to 99.97 in the band; 4 ohm would be 1250 W.
inline JobBuilder twelve() {
    return one_zone(70.7, 100).chain("p", 12, "z", 5);
}

inline Judgement newest(const Job& job) {
    return derive(job).readings.back();
}

inline Statement newest_said(const Job& job) {
    return statement_of(job, derive(job), job.all<Reading>().size() - 1);
}
inline std::string text_of(const Job& job) {
    return in_english(newest_said(job).text);
}
inline std::string why_of(const Job& job) {
    return in_english(newest_said(job).why);
}

inline bool says(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace tapwright
