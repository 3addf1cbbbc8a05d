// Derived: everything a job's records lead to, made anew by derive() after every change and never stored. Screens, the
// command line, CSV and the sheet read it and compute nothing themselves. Definitions: docs/calculations.md.
#pragma once

#include <vector>

#include "core/findings/findings.h"
#include "core/job/job.h"
#include "core/readings/judgement.h"

namespace tapwright {

struct Derived : Judged {
    std::vector<Finding> findings;  // stops first, then warnings, then notes; within these in record order

    bool has_stop() const { return !findings.empty() && findings.front().severity == Severity::stop; }
};

// The whole of it. Linear in the records; survives every broken relation.
Derived derive(const Job& job);

}  // namespace tapwright
