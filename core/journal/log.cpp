#include "core/journal/log.h"

#include <algorithm>
#include <charconv>
#include <limits>

#include "core/base/text.h"

namespace tapwright {
namespace {

constexpr std::size_t longest_name = 40;
constexpr std::size_t longest_text = 4096;
constexpr std::size_t longest_field = std::size_t{8} << 20;

bool is_lower_or_digit(char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
}

bool is_name(std::string_view text) {
    return !text.empty() && text.size() <= longest_name && std::all_of(text.begin(), text.end(), is_lower_or_digit);
}

bool is_id(std::string_view text) {
    const auto fits = [](char c) { return is_lower_or_digit(c) || (c >= 'A' && c <= 'Z') || c == '-'; };
    return !text.empty() && text.size() <= longest_name && std::all_of(text.begin(), text.end(), fits);
}

// A number from 0 to 2^32 - 1 in its only spelling: no sign, no leading zero.
std::optional<std::uint32_t> counted_number(std::string_view text) {
    if (text.empty() || (text.size() > 1 && text[0] == '0')) return std::nullopt;
    std::uint32_t number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
    return number;
}

void append_number(std::string& text, std::uint32_t number) {
    char digits[10];
    text.append(digits, std::to_chars(digits, digits + sizeof digits, number).ptr);
}

void append_address(std::string& text, OpAddress address) {
    text += writer_text(address.writer);
    text += '/';
    append_number(text, address.n);
    text += '/';
    append_number(text, address.index);
}

std::optional<OpAddress> op_address_from(std::string_view text) {
    const std::size_t slash = text.rfind('/');
    if (slash == std::string_view::npos) return std::nullopt;
    const auto batch = batch_address_from(text.substr(0, slash));
    const auto index = counted_number(text.substr(slash + 1));
    if (!batch || !index) return std::nullopt;
    return OpAddress{batch->writer, batch->n, *index};
}

template <class T>
bool ascends(const std::vector<T>& items) {
    return std::adjacent_find(items.begin(), items.end(), [](const T& a, const T& b) { return !(a < b); }) ==
           items.end();
}

Result<void> check_op(const Op& op, BatchAddress batch, std::size_t index) {
    const auto refuse = [&](Message what) {
        return Refusal{sentences({Message("Change {address}, part {number}, has not the form of one.",
                                          {{"address", code(address_text(batch))}, {"number", index}}),
                                  std::move(what)})};
    };
    if (!is_name(op.kind))
        return refuse(Message("Its kind is {found}; 1 to 40 of a-z, 0-9 and _ would be right.",
                              {{"found", entered(cited(op.kind))}}));
    if (!is_id(op.id))
        return refuse(Message("Its id is {found}; 1 to 40 of A-Z, a-z, 0-9, _ and - would be right.",
                              {{"found", entered(cited(op.id))}}));
    if (!op.field.empty() && !is_name(op.field))
        return refuse(Message("Its field is {found}; 1 to 40 of a-z, 0-9 and _ would be right.",
                              {{"found", entered(cited(op.field))}}));
    if (op.value.empty() || op.value.size() > longest_field || !is_utf8(op.value))
        return refuse(Message("Its value is missing, above 8 MiB or not UTF-8."));
    if (op.is_existence() && op.value != "true" && op.value != "null")
        return refuse(Message("It says {found} of a record's existence; true or null would be right.",
                              {{"found", entered(cited(op.value))}}));
    if (!ascends(op.parents)) return refuse(Message("It names what it replaces out of order or twice."));
    return done();
}

}  // namespace

std::string writer_text(Writer writer) {
    static constexpr char digits[] = "0123456789abcdef";
    std::string text(16, '0');
    for (std::size_t i = 16; i-- > 0; writer >>= 4) text[i] = digits[writer & 15];
    return text;
}

std::optional<Writer> writer_from(std::string_view text) {
    const auto is_hex = [](char c) { return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f'); };
    if (text.size() != 16 || !std::all_of(text.begin(), text.end(), is_hex)) return std::nullopt;
    Writer writer = 0;
    std::from_chars(text.data(), text.data() + text.size(), writer, 16);
    if (writer == 0) return std::nullopt;
    return writer;
}

std::string address_text(BatchAddress address) {
    std::string text = writer_text(address.writer);
    text += '/';
    append_number(text, address.n);
    return text;
}

std::string address_text(OpAddress address) {
    std::string text;
    append_address(text, address);
    return text;
}

std::optional<BatchAddress> batch_address_from(std::string_view text) {
    if (text.size() < 18 || text[16] != '/') return std::nullopt;
    const auto writer = writer_from(text.substr(0, 16));
    const auto n = counted_number(text.substr(17));
    if (!writer || !n || *n == 0) return std::nullopt;
    return BatchAddress{*writer, *n};
}

std::string addresses_text(const std::vector<OpAddress>& addresses) {
    std::string text;
    for (const OpAddress address : addresses) {
        if (!text.empty()) text += ' ';
        append_address(text, address);
    }
    return text;
}

std::optional<std::vector<OpAddress>> addresses_from(std::string_view text) {
    std::vector<OpAddress> addresses;
    while (!text.empty()) {
        const std::size_t space = text.find(' ');
        const auto address = op_address_from(text.substr(0, space));
        if (!address || space == text.size() - 1) return std::nullopt;
        addresses.push_back(*address);
        text = space == std::string_view::npos ? std::string_view() : text.substr(space + 1);
    }
    return addresses;
}

Digest hash_of(const Batch& batch) {
    Sha256 sum;
    sum.add_framed("tapwright batch 1");
    sum.add_framed(writer_text(batch.writer)).add_number(batch.n).add_number(static_cast<std::uint64_t>(batch.clock));
    sum.add_framed(batch.person).add_framed(batch.visit).add_framed(batch.time);
    sum.add_framed(batch.undoes ? address_text(*batch.undoes) : std::string());
    sum.add_number(batch.prev.size());
    for (const Digest& hash : batch.prev) sum.add(hash);
    sum.add_number(batch.ops.size());
    for (const Op& op : batch.ops) {
        sum.add_framed(op.kind).add_framed(op.id).add_framed(op.field).add_framed(op.value);
        sum.add_framed(addresses_text(op.parents));
    }
    return sum.finish();
}

Result<void> check_form(const Batch& batch) {
    const auto refuse = [&](Message what) {
        return Refusal{sentences(
            {Message("Change {address} has not the form of one.", {{"address", code(address_text(batch.address()))}}),
             std::move(what)})};
    };
    const auto fits = [](const std::string& text) { return text.size() <= longest_text && is_utf8(text); };
    if (batch.writer == 0 || batch.n == 0) return refuse(Message("It has no writer or no number; both count from 1."));
    if (batch.clock < 0) return refuse(Message("Its clock is below 0."));
    if (!fits(batch.person)) return refuse(Message("Its person is above 4096 bytes or not UTF-8."));
    if (!batch.visit.empty() && !is_id(batch.visit))
        return refuse(Message("Its visit is {found}, which is no id.", {{"found", entered(cited(batch.visit))}}));
    if (batch.time.size() > longest_name || !is_utf8(batch.time))
        return refuse(Message("Its time is {found}; RFC 3339 as in {example} would be right.",
                              {{"found", entered(cited(batch.time))}, {"example", code("2024-05-03T14:30:00+02:00")}}));
    if (!ascends(batch.prev)) return refuse(Message("It names its predecessors out of order or twice."));
    if (batch.ops.empty()) return refuse(Message("It changes nothing."));
    if (batch.ops.size() > std::numeric_limits<std::uint32_t>::max()) return refuse(Message("It is too large."));
    for (std::size_t index = 0; index < batch.ops.size(); ++index)
        TAPWRIGHT_PASS(check_op(batch.ops[index], batch.address(), index));
    return done();
}

std::int64_t next_clock(std::int64_t last_seen, std::int64_t now_ms) {
    constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max();
    const std::int64_t now = std::clamp<std::int64_t>(now_ms, 0, most >> 16) << 16;
    return std::max(now, last_seen == most ? most : last_seen + 1);
}

}  // namespace tapwright
