// Session: one open job file, from a request to what it leads to.
//
//   request -> decide (pure) -> append to the journal (the only write) -> apply (pure) -> derive (pure)
//
// Command line, import and screens use nothing else. What a Session shows (job(), derived()) is what the file holds: a
// change is visible only after it has reached the disk, and a refused one leaves everything as it was.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/derive/derived.h"
#include "core/journal/journal.h"
#include "core/journal/replica.h"
#include "core/journal/states.h"
#include "core/journal/undo.h"
#include "core/session/decide.h"

namespace tapwright {

// What came of a request.
struct Outcome {
    bool kept = false;             // false: nothing had to change
    std::vector<Id> ids;           // of each change, in order
    std::vector<Message> remarks;  // what an undo had to leave: "Tap of C-101 (changed later by Ana)"
};

// What a request would lead to, with nothing written.
struct Proposal {
    std::vector<Id> ids;  // of each change, in order
    Job job;
    Derived derived;
};

// One line of the history, for people.
struct HistoryLine {
    BatchAddress batch;
    std::string address;  // "0123456789abcdef/12"
    std::string time;
    std::string person;
    std::string visit;
    std::vector<Message> what;  // one for each fact, at most `most_facts`
    std::size_t facts = 0;      // how many there are
    bool is_undo = false;
    bool is_undone = false;
};

// "3f9a-1c22-07be": what people read of a state's hash. Requires: 64 hexadecimal digits.
std::string code_of_state(const std::string& state);

class Session {
public:
    // Makes a job file holding `content` (its job record must get a name) in one batch. `vfs`: see Journal.
    static Result<Session> create(const std::string& path, const Command& content, const Author& author,
                                  const Stamp& stamp, const std::string& vfs = {});
    // Opens a job file. Access::read never writes to it.
    static Result<Session> open(const std::string& path, Access access, const std::string& vfs = {});

    const Job& job() const { return job_; }
    const Derived& derived() const { return derived_; }
    const std::string& path() const { return journal_.path(); }
    // Whether an id has ever been used in this job, by records that are gone too.
    bool was_used(const Id& id) const;
    bool can_write() const { return journal_.access() == Access::write; }
    // After an error of the disk that could not be mended: what is shown can be looked at, and the file opened again.
    bool is_closed() const { return journal_.is_closed(); }

    Result<Outcome> request(const Command& command, const Author& author, const Stamp& stamp);

    // The same request, worked out beside the real job: refused for the same reasons, writes nothing.
    Result<Proposal> propose(const Command& command, const Author& author, const Stamp& stamp) const;

    // Takes back this person's latest batch that is neither an undo nor undone; redo takes back their latest undo.
    Result<Outcome> undo(const Author& author, const Stamp& stamp);
    Result<Outcome> redo(const Author& author, const Stamp& stamp);
    bool can_undo(const Author& author) const { return replica_.latest_undoable(author.person).has_value(); }
    bool can_redo(const Author& author) const { return replica_.latest_redoable(author.person).has_value(); }

    // The batch that undo would take back, and the one that redo would bring back. Errors: those of undo and redo.
    Result<Batch> undoable(const Author& author) const;
    Result<Batch> redoable(const Author& author) const;

    // The latest first.
    Result<std::vector<HistoryLine>> history(std::size_t most_batches, std::size_t most_facts) const;

    Result<Verified> verify() const { return journal_.verify(); }
    Result<Sealed> seal(const std::string& path, const FilePort& files) const { return journal_.seal(path, files); }

    // Photos: bytes by their SHA-256. See Journal.
    Result<Digest> put_blob(const Blob& blob) { return journal_.put_blob(blob); }
    Result<bool> has_blob(const Digest& sha256) const { return journal_.has_blob(sha256); }
    Result<Blob> get_blob(const Digest& sha256) const { return journal_.get_blob(sha256); }
    Result<std::string> get_copy(const Digest& sha256) const { return journal_.get_copy(sha256); }

    // Changes with every kept change, and no two sessions of a thread ever had the same: for what was worked out from
    // job() and derived() and is to be worked out anew.
    std::uint64_t revision() const { return revision_; }

    // How many changes the sessions of this thread have kept in files that lay there before: for a caller whose call
    // ended without an answer, as when memory ran out, and who must say whether it was carried out.
    static std::uint64_t changes_kept();

    // What the job is now, as the hash that a sheet carries and that is signed for, 64 hexadecimal digits. Records of
    // sheets and sign-offs do not change it.
    std::string state() const { return hex(states_.now().hash); }

    // The log: where it stands, and fields that two copies set differently.
    std::size_t batch_count() const { return journal_.batch_count(); }
    std::vector<Conflict> conflicts() const { return replica_.conflicts(); }
    // See Journal. Reads the whole file once more.
    Result<void> for_each_batch(const BatchVisitor& visit) const { return journal_.for_each_batch(visit); }
    Result<Batch> batch(BatchAddress address) const { return journal_.batch(address); }
    Result<Op> op(OpAddress address) const { return journal_.op(address); }
    // The JSON text a field has, also of a record that is gone; "" when it has none.
    std::string last_value(Kind kind, const std::string& id, std::string_view field) const;

private:
    Session(Journal journal, Replica replica, States states, Job job);

    Result<Outcome> keep(std::vector<Op> ops, const Author& author, const Stamp& stamp,
                         std::optional<BatchAddress> undoes);
    Result<Batch> latest_undo(const Author& author) const;
    Result<Outcome> take_back(const Result<Batch>& batch, const Author& author, const Stamp& stamp);

    Journal journal_;
    Replica replica_;
    States states_;
    Job job_;
    Derived derived_;
    Writer writer_ = 0;  // 0 until this opening has written
    std::uint64_t revision_;
};

}  // namespace tapwright
