// A survey's answer in words: what to fit, its level and watts, and who can carry them; the figures behind it, and what
// is left out, as the reasons.
#pragma once

#include <string>

#include "core/plan/survey.h"
#include "core/words/statement.h"

namespace tapwright {

Statement statement_of(const Job& job, const Survey& survey);

// The same in English, reasons included: for `--json`.
std::string survey_text(const Job& job, const Survey& survey);

}  // namespace tapwright
