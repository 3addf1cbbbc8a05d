#include "core/journal/journal.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/journal/beside.h"
#include "core/journal/journal_impl.h"

namespace tapwright {
namespace {

Result<void> look_away(const Batch&) {
    return done();
}

void put_parents_in_order(Batch& batch) {
    for (Op& op : batch.ops) {
        std::sort(op.parents.begin(), op.parents.end());
        op.parents.erase(std::unique(op.parents.begin(), op.parents.end()), op.parents.end());
    }
}

Refusal not_kept(const std::string& path, const Message& trouble) {
    return {sentences({Message("This could not be saved in {file}.", {{"file", named(path)}}), trouble,
                       Message("The file is as it was before; fix that and try again.")})};
}

Refusal no_such_change(const std::string& address, const std::string& path) {
    return {Message("{file} holds no change {address}.", {{"file", named(path)}, {"address", code(address)}})};
}

std::uint64_t& count_of_kept() {
    static thread_local std::uint64_t count = 0;
    return count;
}

}  // namespace

// ---- after an error -------------------------------------------------------------------------------------

Result<void> Journal::Impl::can_read() const {
    return broken ? Result<void>(*broken) : done();
}

Result<void> Journal::Impl::can_write() const {
    if (broken) return *broken;
    if (access == Access::write) return done();
    return Refusal{
        Message("{file} is open for reading only, so nothing can be saved in it. Open a copy that may be "
                "written to.",
                {{"file", named(path)}})};
}

Result<std::size_t> Journal::Impl::recover(const Message& trouble) {
    writer = BatchWriter();
    database.reset();
    const auto give_up = [&](const Message& why) {
        broken = Refusal{sentences({Message("{file} was closed after an error.", {{"file", named(path)}}), trouble, why,
                                    Message("Open the job again; everything shown as saved is in the file.")})};
        return *broken;
    };
    auto reopened = Database::open(path, access, vfs);
    if (!reopened) return give_up(reopened.refusal().message);
    Chain now;
    if (auto read = read_batches(*reopened, path, now, look_away); !read) return give_up(read.refusal().message);
    if (!std::equal(chain.hashes().begin(), chain.hashes().end(), now.hashes().begin(),
                    now.hashes().begin() + static_cast<std::ptrdiff_t>(std::min(chain.size(), now.size()))))
        return give_up(Message("The file changed on disk."));
    database = std::move(*reopened);
    writer = BatchWriter(*database);
    chain = std::move(now);
    return chain.size();
}

// ---- opening ----------------------------------------------------------------------------------------

Journal::Journal(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;
Journal::~Journal() = default;

Result<void> Journal::check_place(const std::string& path, const std::string& vfs) {
    if (path.empty()) return Refusal{Message("No file is named; give the path of a job file (.tapjob).")};
    return check_is_free(vfs, path, path);
}

Result<Journal::Created> Journal::create(const std::string& path, Batch first, const std::string& vfs) {
    first.n = 1;
    first.prev.clear();
    put_parents_in_order(first);
    TAPWRIGHT_PASS(check_form(first));
    TAPWRIGHT_PASS(Chain().index().check_follows(first));
    first.hash = hash_of(first);

    auto database = Database::create(path, vfs);
    if (!database) return database.refusal();
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    impl->vfs = vfs;
    impl->access = Access::write;
    impl->database = std::move(*database);
    impl->writer = BatchWriter(*impl->database);
    if (!impl->writer.insert(first, 1) || !impl->database->run("COMMIT")) {
        const Message trouble = impl->database->trouble();
        impl.reset();
        Database::discard(path, vfs);
        return Refusal{sentences({Message("{file} cannot be made.", {{"file", named(path)}}), trouble})};
    }
    impl->chain.add(first);
    impl->writing_as = first.writer;
    return Created{Journal(std::move(impl)), std::move(first)};
}

Result<Journal> Journal::open(const std::string& path, Access access, const BatchVisitor& visit,
                              const std::string& vfs) {
    auto database = Database::open(path, access, vfs);
    if (!database) return database.refusal();
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    impl->vfs = vfs;
    impl->access = database->access();
    impl->database = std::move(*database);
    TAPWRIGHT_PASS(read_batches(*impl->database, path, impl->chain, visit));
    impl->writer = BatchWriter(*impl->database);
    return Journal(std::move(impl));
}

bool Journal::is_closed() const {
    return impl_->broken.has_value();
}
Access Journal::access() const {
    return impl_->access;
}
const std::string& Journal::path() const {
    return impl_->path;
}
const Digest& Journal::job() const {
    return impl_->chain.hashes().front();
}
std::int64_t Journal::last_clock() const {
    return impl_->chain.last_clock();
}
std::size_t Journal::batch_count() const {
    return impl_->chain.size();
}

// ---- writing ----------------------------------------------------------------------------------------

std::uint64_t Journal::kept_by_this_thread() {
    return count_of_kept();
}

Result<Batch> Journal::append(Batch draft) {
    Impl& impl = *impl_;
    TAPWRIGHT_PASS(impl.can_write());
    const std::uint32_t last_n = impl.chain.index().last_n(draft.writer);
    if (last_n != 0 && impl.writing_as != draft.writer)
        return Refusal{
            Message("The writer {writer} wrote to {file} in an earlier opening; each opening must draw a new one.",
                    {{"writer", code(writer_text(draft.writer))}, {"file", named(impl.path)}})};
    draft.n = last_n + 1;
    draft.prev = impl.chain.tips();
    put_parents_in_order(draft);
    TAPWRIGHT_PASS(check_form(draft));
    TAPWRIGHT_PASS(impl.chain.index().check_follows(draft));
    draft.hash = hash_of(draft);

    Message trouble;
    const auto kept = impl.in_transaction([&] { return impl.writer.insert(draft, impl.chain.size() + 1); }, trouble);
    if (!kept) return kept.refusal();
    // Before anything that asks for memory: the batch is on the disk.
    if (*kept || impl.chain.has(draft.hash)) ++count_of_kept();
    if (*kept) impl.chain.add(draft);
    if (!impl.chain.has(draft.hash)) return not_kept(impl.path, trouble);
    impl.writing_as = draft.writer;
    return draft;
}

Result<std::vector<Batch>> Journal::take(const std::vector<Batch>& foreign) {
    Impl& impl = *impl_;
    TAPWRIGHT_PASS(impl.can_write());
    Chain chain = impl.chain;
    std::vector<Batch> news;
    for (const Batch& batch : foreign) {
        if (const auto known = chain.index().find(batch.address())) {
            if (chain.hashes()[*known] == batch.hash) continue;
            return Refusal{
                Message("Change {address} is here already with other content: one of the two files was altered "
                        "outside Tapwright. Nothing was brought in; keep the file you trust.",
                        {{"address", code(address_text(batch.address()))}})};
        }
        if (auto fine = chain.check(batch); !fine)
            return Refusal{sentences({fine.refusal().message,
                                      Message("Nothing was brought in; only a whole copy of the same job can be.")})};
        chain.add(batch);
        news.push_back(batch);
    }
    if (news.empty()) return news;
    Message trouble;
    const auto insert_all = [&] {
        std::size_t place = impl.chain.size();
        return std::all_of(news.begin(), news.end(),
                           [&](const Batch& batch) { return impl.writer.insert(batch, ++place); });
    };
    TAPWRIGHT_TAKE(kept, impl.in_transaction(insert_all, trouble));
    if (kept) impl.chain = std::move(chain);
    if (!impl.chain.has(news.back().hash)) return not_kept(impl.path, trouble);
    return news;
}

// ---- reading ----------------------------------------------------------------------------------------

Result<void> Journal::for_each_batch(const BatchVisitor& visit) const {
    if (auto can = impl_->can_read(); !can) return can;
    Chain chain;
    return read_batches(*impl_->database, impl_->path, chain, visit);
}

Result<Batch> Journal::batch(BatchAddress address) const {
    TAPWRIGHT_PASS(impl_->can_read());
    const auto number = impl_->chain.index().find(address);
    if (!number) return no_such_change(address_text(address), impl_->path);
    return read_batch(*impl_->database, impl_->path, *number + std::size_t{1}, impl_->chain.index().op_count(*number));
}

Result<Op> Journal::op(OpAddress address) const {
    TAPWRIGHT_PASS(impl_->can_read());
    if (!impl_->chain.index().has(address)) return no_such_change(address_text(address), impl_->path);
    const std::uint32_t number = *impl_->chain.index().find(address.batch());
    return read_op(*impl_->database, impl_->path, number + std::size_t{1}, address.index);
}

Result<std::vector<HistoryEntry>> Journal::history(std::size_t limit) const {
    TAPWRIGHT_PASS(impl_->can_read());
    std::vector<HistoryEntry> entries;
    for (std::size_t place = impl_->chain.size(); place > 0 && entries.size() < limit; --place) {
        auto batch = read_batch(*impl_->database, impl_->path, place, 0);
        if (!batch) return batch.refusal();
        const std::size_t ops = impl_->chain.index().op_count(static_cast<std::uint32_t>(place - 1));
        entries.push_back({std::move(*batch), ops});
    }
    return entries;
}

}  // namespace tapwright
