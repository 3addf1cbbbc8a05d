// What a fit says: what to re-tap for each aim, or why it does not fit; what was taken as it is, as the reasons.
#pragma once

#include <string>

#include "core/plan/fit.h"
#include "core/words/statement.h"

namespace tapwright {

Statement statement_of(const Job& job, const FitRequest& request, const Fit& fit);
// The same without the reasons, a paragraph for each option, or one that says why there is none.
std::vector<Message> paragraphs_of(const Job& job, const FitRequest& request, const Fit& fit);

// What somebody wrote about a loudspeaker that hangs there, or planned for it: "planned on 5 W and noted "keep loud"".
// Empty: nothing. To be shown before another tap is proposed.
Message about_re_tapped(const Point& point);

// The same in English, reasons included: for `--json`.
std::string fit_text(const Job& job, const FitRequest& request, const Fit& fit);

}  // namespace tapwright
