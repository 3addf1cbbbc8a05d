#include "ui/screens/common/shared.h"

#include <utility>

#include "core/base/text.h"

namespace tapwright::ui {

void Shared::ask(Context& context, ChangeList changes, Message what, std::function<void(const std::vector<Id>&)> then) {
    context.requests.change(
        {std::move(what),
         [this, changes = std::move(changes), then = std::move(then)](Session& session) -> Result<void> {
             const Command command{.changes = changes, .fill_in = true, .place = {}};
             const Result<Outcome> outcome = session.request(command, author(), stamp());
             if (!outcome) return outcome.refusal();
             if (then) then(outcome->ids);
             return done();
         }});
}

const Zone* Shared::zone_in_hand(const Job& job) const {
    if (const Zone* held = job.find<Zone>(zone)) return held;
    return job.all<Zone>().empty() ? nullptr : &job.all<Zone>().front();
}

const Draft* Shared::typed_draft(std::string_view prefix) const {
    for (auto draft = drafts.lower_bound(prefix); draft != drafts.end() && draft->first.starts_with(prefix); ++draft)
        if (!draft->second.text.empty()) return &draft->second;
    return nullptr;
}

// Emptied, not erased: a field may be drawing itself from it.
void Shared::drop_drafts(std::string_view prefix) {
    for (auto draft = drafts.lower_bound(prefix); draft != drafts.end() && draft->first.starts_with(prefix); ++draft)
        draft->second = {};
}

Message draft_words(const Draft& draft) {
    return Message("Not added: “{text}” waits in its form.", {{"text", entered(cited(draft.text, 40))}});
}

tapwright::Change adding(Kind kind, Map fields) {
    return {ChangeOp::add, kind, Id(), std::move(fields)};
}

tapwright::Change setting(Kind kind, const Id& id, Map fields) {
    return {ChangeOp::set, kind, id, std::move(fields)};
}

}  // namespace tapwright::ui
