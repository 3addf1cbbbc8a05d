// What the tests of making room share.
#pragma once

#include <doctest/doctest.h>

#include <string>

#include "core/plan/fit.h"
#include "core/words/fit_text.h"
#include "core/words/words.h"
#include "tests/derive/job_builder.h"

namespace tapwright::test {

inline Result<Fit> fitted(const Job& job, const FitRequest& request) {
    return fit(job, derive(job), request);
}

// Whether the text holds that; a failed check shows both.
inline bool says(const std::string& text, const std::string& part) {
    CAPTURE(text);
    CAPTURE(part);
    return text.find(part) != std::string::npos;
}

}  // namespace tapwright::test
