#include "core/journal/states.h"

#include <algorithm>

namespace tapwright {
namespace {

// What core/job calls the kind of those records; ops carry kinds as text.
constexpr std::string_view sheet_kind = "sheet";

bool only_records_sheets(const Batch& batch) {
    return std::all_of(batch.ops.begin(), batch.ops.end(), [](const Op& op) { return op.kind == sheet_kind; });
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
    node.is_record = !batch.ops.empty() && only_records_sheets(batch);
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
    node.position = position_;
    nodes_.push_back(std::move(node));
    if (!nodes_.back().is_record) tips_.insert(number);
    nodes_.back().state = hash_of(tips_);
}

Digest States::hash_of(const std::set<std::uint32_t>& tips) const {
    std::vector<Digest> hashes;
    for (const std::uint32_t tip : tips) hashes.push_back(nodes_[tip].hash);
    std::sort(hashes.begin(), hashes.end());
    std::string bytes;
    for (const Digest& hash : hashes) bytes.append(hash.begin(), hash.end());
    return sha256(bytes);
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

std::optional<States::Found> States::found(std::vector<bool> holds, std::string_view digits) const {
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
    if (!hex(found.state.hash).starts_with(digits)) return std::nullopt;
    found.holds = std::move(holds);
    return found;
}

std::optional<States::Found> States::find(std::string_view digits) const {
    for (std::size_t i = nodes_.size(); i-- > 0;) {
        if (nodes_[i].is_record || !hex(nodes_[i].state).starts_with(digits)) continue;
        std::vector<bool> holds(nodes_.size());
        std::fill(holds.begin(), holds.begin() + static_cast<std::ptrdiff_t>(i) + 1, true);
        return found(std::move(holds), digits);
    }
    for (const Node& node : nodes_)
        if (node.is_record)
            if (auto seen = found(closure(node.follows), digits)) return seen;
    return std::nullopt;
}

}  // namespace tapwright
