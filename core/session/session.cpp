#include "core/session/session.h"

#include "core/session/apply.h"
#include "core/session/opening.h"
#include "core/session/told.h"

namespace tapwright {
namespace {

Batch draft_of(std::vector<Op> ops, const Author& author, const Stamp& stamp, Writer writer, std::int64_t last_clock,
               std::optional<BatchAddress> undoes) {
    Batch draft;
    draft.writer = writer;
    draft.clock = next_clock(last_clock, stamp.now_ms);
    draft.person = author.person;
    draft.visit = author.visit;
    draft.time = stamp.time;
    draft.undoes = undoes;
    draft.ops = std::move(ops);
    return draft;
}

// A writer of its own for each opening that writes: the seed's first number, which no id is made of.
Writer new_writer(const Stamp& stamp) {
    return IdMaker(~stamp.seed).number();
}

// Counts over all sessions of the thread: one that is opened where another lay in memory is told apart.
std::uint64_t next_revision() {
    static thread_local std::uint64_t revision = 0;
    return ++revision;
}

std::uint64_t& kept_by_this_thread() {
    static thread_local std::uint64_t count = 0;
    return count;
}

// "Tap of C-101 (changed later by Ana)".
Message remark_of(const Session& session, const NotRestored& left) {
    const std::optional<Kind> kind = kind_from_singular(left.kind);
    if (!kind) return code(left.kind);
    const FieldInfo* field = find_field(*kind, left.field);
    const Message record = told_called(session, Batch(), *kind, left.id);
    const Message what =
        field ? Message("{field} of {record}", {{"field", title_of(*field)}, {"record", record}}) : record;
    if (left.person.empty()) return Message("{what} (changed later)", {{"what", what}});
    return Message("{what} (changed later by {person})", {{"what", what}, {"person", told_name(left.person)}});
}

Refusal nothing_to_restore(const std::vector<Message>& remarks) {
    constexpr std::size_t most = 3;
    std::vector<Argument> left;
    for (const Message& remark : remarks)
        if (left.size() < most) left.push_back(remark);
    if (remarks.size() > most)
        left.push_back(plural("{count} more", "{count} more", static_cast<std::int64_t>(remarks.size() - most)));
    return {Message("This cannot be undone: {left}. Change it by hand.", {{"left", series(left)}})};
}

}  // namespace

std::string code_of_state(const std::string& state) {
    const std::optional<Digest> digest = digest_from(state);
    TAPWRIGHT_ENSURE(digest.has_value());
    return short_code(*digest);
}

Session::Session(Journal journal, Replica replica, States states, Job job)
    : journal_(std::move(journal)),
      replica_(std::move(replica)),
      states_(std::move(states)),
      job_(std::move(job)),
      derived_(derive(job_)),
      revision_(next_revision()) {}

std::uint64_t Session::changes_kept() {
    return kept_by_this_thread();
}

Result<Session> Session::create(const std::string& path, const Command& content, const Author& author,
                                const Stamp& stamp, const std::string& vfs) {
    TAPWRIGHT_TAKE(decided, decide(Job(), content, author, stamp, nullptr));
    std::vector<Op> ops = ops_of(Replica(), decided.facts);
    const Writer writer = new_writer(stamp);
    Result<Journal::Created> created =
        Journal::create(path, draft_of(std::move(ops), author, stamp, writer, 0, std::nullopt), vfs);
    if (!created) return created.refusal();
    Replica replica;
    TAPWRIGHT_PASS(replica.absorb(created->first));
    Result<Job> job = job_of(replica);
    if (!job) return job.refusal();
    States states;
    states.add(created->first);
    Session session(std::move(created->journal), std::move(replica), std::move(states), std::move(*job));
    session.writer_ = writer;
    return session;
}

Result<Session> Session::open(const std::string& path, Access access, const std::string& vfs) {
    Replica replica;
    States states;
    const OpeningCheck opening(replica);
    const auto absorb = [&](const Batch& batch) -> Result<void> {
        TAPWRIGHT_PASS(opening.before(batch));
        const Result<Absorbed> absorbed = replica.absorb(batch);
        states.add(batch);
        return absorbed ? done() : Result<void>(absorbed.refusal());
    };
    Result<Journal> journal = Journal::open(path, access, absorb, vfs);
    if (!journal) return journal.refusal();
    TAPWRIGHT_PASS(opening.at_end());
    Result<Job> job = job_of(replica);
    if (!job) return job.refusal();
    return Session(std::move(*journal), std::move(replica), std::move(states), std::move(*job));
}

bool Session::was_used(const Id& id) const {
    for (std::size_t i = 0; i < kind_count; ++i)
        if (replica_.find(singular(kind_at(i)), id.text())) return true;
    return false;
}

std::string Session::last_value(Kind kind, const std::string& id, std::string_view field) const {
    const std::optional<RecordNumber> record = replica_.find(singular(kind), id);
    const auto value = record ? replica_.value(*record, field) : std::nullopt;
    return value ? std::string(*value) : std::string();
}

Result<Outcome> Session::request(const Command& command, const Author& author, const Stamp& stamp) {
    TAPWRIGHT_TAKE(decided,
                   decide(
                       job_, command, author, stamp, [this](const Id& id) { return was_used(id); }, &derived_));
    if (decided.facts.empty()) return Outcome{false, decided.ids, {}};
    Result<Outcome> kept = keep(ops_of(replica_, decided.facts), author, stamp, std::nullopt);
    if (kept) kept->ids = decided.ids;
    return kept;
}

Result<Proposal> Session::propose(const Command& command, const Author& author, const Stamp& stamp) const {
    Result<Decided> decided = decide(
        job_, command, author, stamp, [this](const Id& id) { return was_used(id); }, &derived_);
    if (!decided) return decided.refusal();
    Derived derived = derive(decided->after);
    return Proposal{std::move(decided->ids), std::move(decided->after), std::move(derived)};
}

Result<Outcome> Session::keep(std::vector<Op> ops, const Author& author, const Stamp& stamp,
                              std::optional<BatchAddress> undoes) {
    const Writer writer = writer_ == 0 ? new_writer(stamp) : writer_;
    // All that apply() could refuse of these ops, and what else the records hold opening has seen.
    for (const Op& op : ops) TAPWRIGHT_PASS(check_op(op));
    TAPWRIGHT_TAKE(kept,
                   journal_.append(draft_of(std::move(ops), author, stamp, writer, journal_.last_clock(), undoes)));
    // Beyond this point the change is on the disk; nothing below can refuse it.
    ++kept_by_this_thread();
    writer_ = writer;
    const Result<Absorbed> absorbed = replica_.absorb(kept);
    TAPWRIGHT_ENSURE(absorbed.ok());
    states_.add(kept);
    const Result<void> applied = apply(job_, replica_, absorbed->touched);
    TAPWRIGHT_ENSURE(applied.ok());
    derived_ = derive(job_);
    revision_ = next_revision();
    return Outcome{true, {}, {}};
}

Result<Outcome> Session::take_back(const Result<Batch>& batch, const Author& author, const Stamp& stamp) {
    if (!batch) return batch.refusal();
    const auto lookup = [&](OpAddress address) { return journal_.op(address); };
    Result<UndoPlan> plan = plan_undo(replica_, *batch, lookup);
    if (!plan) return plan.refusal();
    std::vector<Message> remarks;
    for (const NotRestored& left : plan->kept) remarks.push_back(remark_of(*this, left));
    if (plan->ops.empty()) return nothing_to_restore(remarks);
    Result<Outcome> outcome = keep(std::move(plan->ops), author, stamp, batch->address());
    if (outcome) outcome->remarks = std::move(remarks);
    return outcome;
}

Result<Batch> Session::undoable(const Author& author) const {
    if (const auto mine = replica_.latest_undoable(author.person)) return journal_.batch(*mine);
    return Refusal{Message("You have nothing to undo.")};
}

Result<Batch> Session::latest_undo(const Author& author) const {
    if (const auto mine = replica_.latest_redoable(author.person)) return journal_.batch(*mine);
    return Refusal{Message("Nothing to redo: nothing was undone, or something changed since.")};
}

Result<Batch> Session::redoable(const Author& author) const {
    TAPWRIGHT_TAKE(undo, latest_undo(author));
    TAPWRIGHT_ENSURE(undo.undoes.has_value());
    return journal_.batch(*undo.undoes);
}

Result<Outcome> Session::undo(const Author& author, const Stamp& stamp) {
    return take_back(undoable(author), author, stamp);
}

Result<Outcome> Session::redo(const Author& author, const Stamp& stamp) {
    return take_back(latest_undo(author), author, stamp);
}

}  // namespace tapwright
