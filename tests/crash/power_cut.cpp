#include "tests/crash/power_cut.h"

#include <algorithm>
#include <set>

namespace tapwright::test {
namespace {

constexpr std::size_t sector = 512;
constexpr std::size_t most_single = 24;  // writes between two syncs that are tried one by one

void put(std::string& bytes, std::uint64_t at, std::string_view part, bool rubbish) {
    const std::size_t end = static_cast<std::size_t>(at) + part.size();
    while (bytes.size() < end) bytes.push_back(rubbish ? static_cast<char>(bytes.size() * 31 + 7) : '\0');
    std::copy(part.begin(), part.end(), bytes.begin() + static_cast<std::ptrdiff_t>(at));
}

// Tells states apart: one that is missed by chance only makes the count smaller.
std::size_t mark_of(const FolderState& state) {
    std::size_t mark = 0;
    for (const auto& [name, bytes] : state)
        mark = mark * 1000003 + std::hash<std::string>()(name) * 31 + std::hash<std::string>()(bytes);
    return mark;
}

}  // namespace

void PowerCut::follow(const DiskEvent& event) {
    using What = DiskEvent::What;
    const auto name = [&](std::function<void(Names&)> change) {
        change(now_);
        names_pending_.push_back(std::move(change));
    };
    switch (event.what) {
        case What::create:
            return name([name = event.name, file = std::make_shared<File>()](Names& names) { names[name] = file; });
        case What::remove:
            return name([name = event.name](Names& names) { names.erase(name); });
        case What::rename:
            return name([from = event.name, to = event.to](Names& names) {
                const auto found = names.find(from);
                if (found == names.end()) return;
                names[to] = found->second;
                names.erase(from);
            });
        case What::write:
            now_.at(event.name)->pending.push_back({false, event.at, event.bytes});
            return;
        case What::resize:
            now_.at(event.name)->pending.push_back({true, event.at, {}});
            return;
        case What::sync: {
            File& file = *now_.at(event.name);
            Choice everything;
            everything.fates.assign(file.pending.size(), Fate::whole);
            file.synced = content(file, everything, 0);
            file.pending.clear();
            return;
        }
        case What::sync_folder:
            synced_ = now_;
            names_pending_.clear();
            return;
        case What::done:
            return;
    }
}

std::vector<std::shared_ptr<PowerCut::File>> PowerCut::files() const {
    std::vector<std::shared_ptr<File>> found;
    for (const Names* names : {&synced_, &now_})
        for (const auto& [name, file] : *names)
            if (std::find(found.begin(), found.end(), file) == found.end()) found.push_back(file);
    return found;
}

std::size_t PowerCut::pending_count() const {
    std::size_t count = 0;
    for (const auto& file : files()) count += file->pending.size();
    return count;
}

std::string PowerCut::content(const File& file, const Choice& choice, std::size_t first) const {
    std::string bytes = file.synced;
    std::mt19937_64 tearing(choice.tearing);
    for (std::size_t i = 0; i < file.pending.size(); ++i) {
        const Pending& pending = file.pending[i];
        const Fate fate = choice.fates[first + i];
        if (fate == Fate::lost) continue;
        if (pending.is_resize) {
            if (fate == Fate::whole || pending.at == 0) bytes.resize(static_cast<std::size_t>(pending.at));
            continue;
        }
        if (fate == Fate::whole) {
            put(bytes, pending.at, pending.bytes, choice.rubbish);
            continue;
        }
        // Torn: some of its sectors, and perhaps its whole length.
        if (tearing() % 2 == 0) put(bytes, pending.at + pending.bytes.size(), {}, choice.rubbish);
        for (std::size_t at = 0; at < pending.bytes.size();) {
            const std::size_t to_edge = sector - static_cast<std::size_t>(pending.at + at) % sector;
            const std::string_view part = std::string_view(pending.bytes).substr(at, to_edge);
            if (tearing() % 2 == 0) put(bytes, pending.at + at, part, choice.rubbish);
            at += part.size();
        }
    }
    return bytes;
}

FolderState PowerCut::made(const Choice& choice) const {
    Names names = synced_;
    for (std::size_t i = 0; i < names_pending_.size(); ++i)
        if (choice.names[i]) names_pending_[i](names);
    FolderState state;
    std::size_t first = 0;
    for (const auto& file : files()) {
        for (const auto& [name, behind] : names)
            if (behind == file) state[name] = content(*file, choice, first);
        first += file->pending.size();
    }
    return state;
}

PowerCut::Choice PowerCut::all(Fate fate, bool names) const {
    return {std::vector<Fate>(pending_count(), fate), std::vector<bool>(names_pending_.size(), names), false, 0};
}

PowerCut::Choice PowerCut::any() {
    Choice choice = all(Fate::lost, true);
    const std::uint64_t kind = random_() % 4;  // how many of the writes are lost: few, half, most
    for (Fate& fate : choice.fates) {
        const std::uint64_t dice = random_() % 8;
        fate = dice == 0 ? Fate::torn : dice <= 2 * kind ? Fate::lost : Fate::whole;
    }
    if (random_() % 2 == 0)
        for (std::size_t i = 0; i < choice.names.size(); ++i) choice.names[i] = random_() % 2 == 0;
    choice.rubbish = random_() % 2 == 0;
    choice.tearing = random_();
    return choice;
}

void PowerCut::states(std::size_t most, const std::function<void(const FolderState&)>& take) {
    std::set<std::size_t> seen;
    const auto offer = [&](const Choice& choice) {
        if (seen.size() >= most) return;
        const FolderState state = made(choice);
        if (seen.insert(mark_of(state)).second) take(state);
    };
    offer(all(Fate::lost, false));
    offer(all(Fate::lost, true));
    offer(all(Fate::whole, false));
    offer(all(Fate::whole, true));
    const std::size_t count = pending_count();
    const std::size_t step = std::max<std::size_t>(1, count / most_single);
    for (std::size_t i = 0; i < count; i += step) {
        for (const Fate fate : {Fate::lost, Fate::torn}) {
            Choice but_one = all(Fate::whole, true);
            but_one.fates[i] = fate;
            but_one.tearing = random_();
            offer(but_one);
        }
        Choice alone = all(Fate::lost, true);
        alone.fates[i] = Fate::whole;
        offer(alone);
        alone.rubbish = true;
        offer(alone);
    }
    const std::size_t tries = count + names_pending_.size() == 0 ? 0 : 4 * most;
    for (std::size_t i = 0; i < tries && seen.size() < most; ++i) offer(any());
}

}  // namespace tapwright::test
