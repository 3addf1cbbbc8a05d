#include "core/journal/journal.h"

#include <algorithm>

#include "core/base/text.h"
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

Refusal not_kept(const std::string& path, const std::string& trouble) {
    return {"This could not be kept in '" + cited(path, 200) + "': " + trouble +
            ". The file is as it was before; put that right and do it once more."};
}

}  // namespace

// ---- after an error -------------------------------------------------------------------------------------

Result<void> Journal::Impl::can_read() const {
    return broken ? Result<void>(*broken) : done();
}

Result<void> Journal::Impl::can_write() const {
    if (broken) return *broken;
    if (access == Access::write) return done();
    return Refusal{"'" + cited(path, 200) + "' is open for reading only, so nothing can be kept in it; open a copy " +
                   "that may be written to."};
}

Result<std::size_t> Journal::Impl::recover(const std::string& trouble) {
    writer = BatchWriter();
    database.reset();
    const auto give_up = [&](const std::string& why) {
        broken = Refusal{"'" + cited(path, 200) + "' was closed after an error (" + trouble + "). " + why +
                         " Close the job and open it again; everything said to be kept until then is in the file."};
        return *broken;
    };
    auto reopened = Database::open(path, access, vfs);
    if (!reopened) return give_up(bare_text_of(reopened.refusal().message));
    Chain now;
    if (auto read = read_batches(*reopened, path, now, look_away); !read) return give_up(bare_text_of(read.refusal().message));
    if (!std::equal(chain.hashes().begin(), chain.hashes().end(), now.hashes().begin(),
                    now.hashes().begin() + static_cast<std::ptrdiff_t>(std::min(chain.size(), now.size()))))
        return give_up("It is not the file it was.");
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

Result<Journal::Created> Journal::create(const std::string& path, Batch first, const std::string& vfs) {
    first.n = 1;
    first.prev.clear();
    put_parents_in_order(first);
    if (auto fine = check_form(first); !fine) return fine.refusal();
    if (auto fine = Chain().index().check_follows(first); !fine) return fine.refusal();
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
        const std::string trouble = impl->database->trouble();
        impl.reset();
        Database::discard(path, vfs);
        return Refusal{"'" + cited(path, 200) + "' cannot be made: " + trouble + "."};
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
    if (auto read = read_batches(*impl->database, path, impl->chain, visit); !read) return read.refusal();
    impl->writer = BatchWriter(*impl->database);
    return Journal(std::move(impl));
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

Result<Batch> Journal::append(Batch draft) {
    Impl& impl = *impl_;
    if (auto can = impl.can_write(); !can) return can.refusal();
    const std::uint32_t last_n = impl.chain.index().last_n(draft.writer);
    if (last_n != 0 && impl.writing_as != draft.writer)
        return Refusal{"The writer " + writer_text(draft.writer) + " has written to '" + cited(impl.path, 200) +
                       "' in an earlier opening; each opening must draw a new one."};
    draft.n = last_n + 1;
    draft.prev = impl.chain.tips();
    put_parents_in_order(draft);
    if (auto fine = check_form(draft); !fine) return fine.refusal();
    if (auto fine = impl.chain.index().check_follows(draft); !fine) return fine.refusal();
    draft.hash = hash_of(draft);

    std::string trouble;
    const auto kept = impl.in_transaction([&] { return impl.writer.insert(draft, impl.chain.size() + 1); }, trouble);
    if (!kept) return kept.refusal();
    if (*kept) impl.chain.add(draft);
    if (!impl.chain.has(draft.hash)) return not_kept(impl.path, trouble);
    impl.writing_as = draft.writer;
    return draft;
}

Result<std::vector<Batch>> Journal::take(const std::vector<Batch>& foreign) {
    Impl& impl = *impl_;
    if (auto can = impl.can_write(); !can) return can.refusal();
    Chain chain = impl.chain;
    std::vector<Batch> news;
    for (const Batch& batch : foreign) {
        if (const auto known = chain.index().find(batch.address())) {
            if (chain.hashes()[*known] == batch.hash) continue;
            return Refusal{"Change " + address_text(batch.address()) +
                           " is here already with other content: one of the two files was altered outside the program. "
                           "Nothing was brought in; keep the file you trust."};
        }
        if (auto fine = chain.check(batch); !fine)
            return Refusal{bare_text_of(fine.refusal().message) + " Nothing was brought in; only a whole copy of the same job can be."};
        chain.add(batch);
        news.push_back(batch);
    }
    if (news.empty()) return news;
    std::string trouble;
    const auto insert_all = [&] {
        std::size_t place = impl.chain.size();
        return std::all_of(news.begin(), news.end(),
                           [&](const Batch& batch) { return impl.writer.insert(batch, ++place); });
    };
    const auto kept = impl.in_transaction(insert_all, trouble);
    if (!kept) return kept.refusal();
    if (*kept) impl.chain = std::move(chain);
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
    if (auto can = impl_->can_read(); !can) return can.refusal();
    const auto number = impl_->chain.index().find(address);
    if (!number)
        return Refusal{"There is no change " + address_text(address) + " in '" + cited(impl_->path, 200) + "'."};
    return read_batch(*impl_->database, impl_->path, *number + std::size_t{1}, impl_->chain.index().op_count(*number));
}

Result<Op> Journal::op(OpAddress address) const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
    if (!impl_->chain.index().has(address))
        return Refusal{"There is no change " + address_text(address) + " in '" + cited(impl_->path, 200) + "'."};
    const std::uint32_t number = *impl_->chain.index().find(address.batch());
    return read_op(*impl_->database, impl_->path, number + std::size_t{1}, address.index);
}

Result<std::vector<HistoryEntry>> Journal::history(std::size_t limit) const {
    if (auto can = impl_->can_read(); !can) return can.refusal();
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
