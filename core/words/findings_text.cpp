#include "core/words/findings_text.h"

#include <array>

#include "core/words/finding_parts.h"
#include "core/words/words.h"

namespace tapwright {
namespace {

using Sayer = Statement (*)(const FindingSubject&);

// By FindingCode. Made of the table of codes, so that a code without a sentence does not compile.
constexpr auto sayers = std::to_array<Sayer>({
#define TAPWRIGHT_FINDING(code, severity, help) said::code,
    TAPWRIGHT_FINDINGS(TAPWRIGHT_FINDING)
#undef TAPWRIGHT_FINDING
});

}  // namespace

// ---- relations: what is broken, as core/job says it ----
namespace said {
namespace {

Statement broken_relation(const FindingSubject& s) {
    const std::vector<BrokenRelation>& broken = s.words.broken();
    if (s.finding.detail >= broken.size())
        return {Message("{place}: refers to something that is not there. Correct it.", {{"place", s.place()}}), {}};
    const BrokenRelation& relation = broken[s.finding.detail];
    return {placed(place_of(s.job, relation), message_of(s.job, relation)), {}};
}

}  // namespace

Statement missing_field(const FindingSubject& s) {
    return broken_relation(s);
}
Statement dangling_reference(const FindingSubject& s) {
    return broken_relation(s);
}
Statement wrong_kind(const FindingSubject& s) {
    return broken_relation(s);
}
Statement feed_loop(const FindingSubject& s) {
    return broken_relation(s);
}
Statement tap_not_offered(const FindingSubject& s) {
    return broken_relation(s);
}
Statement shared_id(const FindingSubject& s) {
    return broken_relation(s);
}

}  // namespace said

const std::vector<BrokenRelation>& FindingWords::broken() const {
    if (!broken_) broken_ = broken_relations(job_);
    return *broken_;
}

Statement FindingWords::statement_of(const Finding& finding) const {
    const FindingSubject subject{*this, job_, derived_, finding};
    return sayers.at(static_cast<std::size_t>(code_of(finding)))(subject);
}

Statement statement_of(const Job& job, const Derived& derived, const Finding& finding) {
    return FindingWords(job, derived).statement_of(finding);
}

}  // namespace tapwright
