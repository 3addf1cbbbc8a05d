// What a finding says: what is wrong in figures and what to do, in two short sentences; behind "Why" the reasons. Made
// only when somebody looks.
#pragma once

#include "core/derive/derived.h"
#include "core/job/relations.h"
#include "core/words/readings_text.h"
#include "core/words/statement.h"

namespace tapwright {

// The statements of all findings of a job, for a list of them: the job is wired, and its relations are checked, once at
// most, when the first finding asks.
class FindingWords {
public:
    // Neither is owned. Requires: `derived` is derive(job), and both outlive this.
    FindingWords(const Job& job, const Derived& derived) : readings_(job, derived), job_(job), derived_(derived) {}

    // Requires: `finding` is one of the derived ones.
    Statement statement_of(const Finding& finding) const;

    // ---- for the functions that say one code each (core/words/finding_parts.h) ----
    const ReadingWords& readings() const { return readings_; }
    const Wiring& wiring() const { return readings_.wiring(); }
    const std::vector<BrokenRelation>& broken() const;

private:
    ReadingWords readings_;
    const Job& job_;
    const Derived& derived_;
    mutable std::optional<std::vector<BrokenRelation>> broken_;
};

// One finding. For several: FindingWords.
Statement statement_of(const Job& job, const Derived& derived, const Finding& finding);

}  // namespace tapwright
