#include "core/journal/states.h"

#include <algorithm>

namespace tapwright {
namespace {

// What core/job calls the kinds of those records; ops carry kinds as text.
constexpr std::string_view sheet_kind = "sheet", signoff_kind = "signoff";

Digest sha256_of(const Digest& hash) {
    Sha256 sum;
    sum.add(hash);
    return sum.finish();
}

// A sheet that was made, or somebody who signed for the state: what the job is does not change by either.
bool only_records_handover(const Batch& batch) {
    return std::all_of(batch.ops.begin(), batch.ops.end(),
                       [](const Op& op) { return op.kind == sheet_kind || op.kind == signoff_kind; });
}

}  // namespace

std::string short_code(const Digest& state) {
    const std::string digits = hex(state);
    return digits.substr(0, 4) + "-" + digits.substr(4, 4) + "-" + digits.substr(8, 4);
}

std::optional<std::string> state_digits(std::string_view text) {
    std::string digits;
    for (char c : text) {
        if (c == '-' || c == ' ') continue;
        if (c >= 'A' && c <= 'F') c = static_cast<char>(c - 'A' + 'a');
        if (!(c >= '0' && c <= '9') && !(c >= 'a' && c <= 'f')) return std::nullopt;
        digits += c;
    }
    if (digits.size() < 8 || digits.size() > 64) return std::nullopt;
    return digits;
}

void States::add(const Batch& batch) {
    const auto number = static_cast<std::uint32_t>(nodes_.size());
    Node node;
    node.hash = batch.hash;
    node.clock = batch.clock;
    node.is_record = !batch.ops.empty() && only_records_handover(batch);
    for (const Digest& before : batch.prev) {
        const auto known = numbers_.find(before);
        if (known == numbers_.end()) continue;
        const Node& previous = nodes_[known->second];
        if (previous.is_record)
            node.follows.insert(node.follows.end(), previous.follows.begin(), previous.follows.end());
        else
            node.follows.push_back(known->second);
    }
    std::sort(node.follows.begin(), node.follows.end());
    node.follows.erase(std::unique(node.follows.begin(), node.follows.end()), node.follows.end());
    numbers_.emplace(batch.hash, number);
    if (!node.is_record) {
        for (const std::uint32_t before : node.follows) tips_.erase(before);
        ++position_;
    }
    nodes_.push_back(std::move(node));
    if (!nodes_.back().is_record) tips_.insert(number);
}

Digest States::hash_of(const std::set<std::uint32_t>& tips) const {
    std::vector<Digest> hashes;
    hashes.reserve(tips.size());
    for (const std::uint32_t tip : tips) hashes.push_back(nodes_[tip].hash);
    std::sort(hashes.begin(), hashes.end());
    Sha256 sum;
    for (const Digest& hash : hashes) sum.add(hash);
    return sum.finish();
}

StateMark States::now() const {
    return {hash_of(tips_), position_};
}

std::vector<bool> States::closure(const std::vector<std::uint32_t>& from) const {
    std::vector<bool> holds(nodes_.size());
    std::vector<std::uint32_t> open = from;
    while (!open.empty()) {
        const std::uint32_t at = open.back();
        open.pop_back();
        if (holds[at]) continue;
        holds[at] = true;
        open.insert(open.end(), nodes_[at].follows.begin(), nodes_[at].follows.end());
    }
    return holds;
}

States::Found States::found(std::vector<bool> holds) const {
    std::set<std::uint32_t> tips;
    Found found;
    std::int64_t latest = -1;
    for (std::uint32_t i = 0; i < nodes_.size(); ++i) {
        if (!holds[i] || nodes_[i].is_record) continue;
        tips.insert(i);
        for (const std::uint32_t before : nodes_[i].follows) tips.erase(before);
        ++found.state.position;
        if (nodes_[i].clock <= latest) continue;
        latest = nodes_[i].clock;
        found.latest = i;
    }
    found.state.hash = hash_of(tips);
    found.holds = std::move(holds);
    return found;
}

// Backwards from the end: what was added last is taken away, and what it alone followed ends the state again.
States::Search States::find_on_the_way(std::string_view digits, std::size_t& left) const {
    std::map<Digest, std::uint32_t> tips;
    std::vector<std::uint32_t> followers(nodes_.size());
    for (const Node& node : nodes_)
        if (!node.is_record)
            for (const std::uint32_t before : node.follows) ++followers[before];
    for (const std::uint32_t tip : tips_) tips.emplace(nodes_[tip].hash, tip);
    for (std::size_t i = nodes_.size(); i-- > 0;) {
        const Node& node = nodes_[i];
        if (node.is_record) continue;
        if (tips.size() > left) return {std::nullopt, true};
        left -= tips.size();
        Sha256 sum;
        for (const auto& tip : tips) sum.add(tip.first);
        if (hex(sum.finish()).starts_with(digits)) {
            std::vector<bool> holds(nodes_.size());
            std::fill(holds.begin(), holds.begin() + static_cast<std::ptrdiff_t>(i) + 1, true);
            return {found(std::move(holds)), false};
        }
        tips.erase(node.hash);
        for (const std::uint32_t before : node.follows)
            if (--followers[before] == 0) tips.emplace(nodes_[before].hash, before);
    }
    return {};
}

// What the author of a sheet's record saw. One change that it follows is the whole of the state's end.
States::Search States::find_in_records(std::string_view digits, std::size_t& left) const {
    for (const Node& node : nodes_) {
        if (!node.is_record) continue;
        const bool is_simple = node.follows.size() == 1;
        const std::size_t cost = is_simple ? 1 : nodes_.size();
        if (cost > left) return {std::nullopt, true};
        left -= cost;
        if (is_simple && !hex(sha256_of(nodes_[node.follows.front()].hash)).starts_with(digits)) continue;
        Found seen = found(closure(node.follows));
        if (hex(seen.state.hash).starts_with(digits)) return {std::move(seen), false};
    }
    return {};
}

States::Search States::find(std::string_view digits, std::size_t most) const {
    std::size_t left = most;
    Search on_the_way = find_on_the_way(digits, left);
    if (on_the_way.found) return on_the_way;
    left = most;
    Search in_records = find_in_records(digits, left);
    in_records.is_cut |= !in_records.found && on_the_way.is_cut;
    return in_records;
}

}  // namespace tapwright
