#include "platform/cli/keeping.h"

#include "core/base/text.h"
#include "core/plan/trial.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {

Access access_for(const Call& call) {
    return call.has("--keep") || call.has("--real") ? Access::write : Access::read;
}

Result<std::vector<Id>> keep_changes(const Call& call, Session& session, const ChangeList& changes) {
    const Result<Author> author = author_for(call, session);
    if (!author) return author.refusal();
    const Result<Outcome> outcome =
        session.request(Command{.changes = changes, .fill_in = true, .place = {}}, *author, make_stamp());
    if (!outcome) return outcome.refusal();
    return outcome->ids;
}

Result<Id> keep_trial(const Call& call, Session& session, const ChangeList& changes) {
    const std::string name = call.option("--keep");
    if (name.empty())
        return placed(code("--keep"), Refusal{Message("Give the trial a name, such as {example}.",
                                                      {{"example", code("--keep \"More in the foyer\"")}})});
    const Result<std::vector<Id>> ids = keep_changes(call, session, {trial_record(name, changes)});
    if (!ids) return ids.refusal();
    return ids->front();
}

void say_trial_kept(const Call& call, const Words& words, const Id& trial) {
    print_line(words, Message("Kept as trial {name}, id {id}. {command} makes it real.",
                              {{"name", entered(cited(call.option("--keep")))},
                               {"id", code(trial.text())},
                               {"command", code("`tapwright trial FILE " + trial.text() + " --real set|plan`")}}));
}

}  // namespace tapwright::cli
