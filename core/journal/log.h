// The log's values: ops, batches, their addresses and their hashes. Plain data; nothing here knows records or SQL.
//
// A batch is one user action: the unit of commit, hash, merge and undo. An op gives one register, (kind, id, field), a
// new value. The field "" is the record's existence: value `true` made it, `null` removed it. docs/file-format.md says
// exactly which bytes are hashed.
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"
#include "core/base/sha256.h"

namespace tapwright {

// One opening of a job file for writing: 64 random bits from outside, never 0, never used twice.
// As text: 16 lower-case hexadecimal digits.
using Writer = std::uint64_t;

std::string writer_text(Writer writer);
std::optional<Writer> writer_from(std::string_view text);

// Names a batch for ever: the n-th of its writer, counted from 1. As text: "0123456789abcdef/12".
struct BatchAddress {
    Writer writer = 0;
    std::uint32_t n = 0;

    friend auto operator<=>(const BatchAddress&, const BatchAddress&) = default;
};

// Names an op for ever: its batch and its place in it, counted from 0. As text: "0123456789abcdef/12/0".
struct OpAddress {
    Writer writer = 0;
    std::uint32_t n = 0;
    std::uint32_t index = 0;

    BatchAddress batch() const { return {writer, n}; }
    friend auto operator<=>(const OpAddress&, const OpAddress&) = default;
};

std::string address_text(BatchAddress address);
std::string address_text(OpAddress address);
std::optional<BatchAddress> batch_address_from(std::string_view text);

// Several op addresses, one space between them, as the column `parents` holds them.
std::string addresses_text(const std::vector<OpAddress>& addresses);
std::optional<std::vector<OpAddress>> addresses_from(std::string_view text);

// One register gets one value.
struct Op {
    std::string kind;   // "point"; [a-z0-9_]{1,40}
    std::string id;     // [A-Za-z0-9_-]{1,40}
    std::string field;  // "tap_w", [a-z0-9_]{1,40}; "" is the record's existence
    std::string value;  // canonical JSON text, UTF-8; "null" clears a field or removes the record
    // What the author saw and replaces, ascending, none twice. A removal names every head of the record.
    std::vector<OpAddress> parents;

    bool is_existence() const { return field.empty(); }
    bool is_removal() const { return field.empty() && value == "null"; }
    friend bool operator==(const Op&, const Op&) = default;
};

struct Batch {
    Writer writer = 0;
    std::uint32_t n = 0;
    std::int64_t clock = 0;  // hybrid logical clock, see next_clock(); >= 0
    std::string person;
    std::string visit;  // the visit's id, or ""
    std::string time;   // RFC 3339 with offset, for people; never compared
    std::optional<BatchAddress> undoes;
    // The hashes of the batches that had no follower when this one was made, ascending. Everything its author saw is
    // among these and their predecessors. Empty in a job's first batch and in no other.
    std::vector<Digest> prev;
    Digest hash{};
    std::vector<Op> ops;

    BatchAddress address() const { return {writer, n}; }
    OpAddress op_address(std::size_t index) const { return {writer, n, static_cast<std::uint32_t>(index)}; }
    friend bool operator==(const Batch&, const Batch&) = default;
};

// The SHA-256 of everything in `batch` but its field `hash`.
Digest hash_of(const Batch& batch);

// Refuses a batch whose form no writer of ours makes: a wrong id or name, text that is not UTF-8, addresses or hashes
// out of order, no op, a time longer than 40 bytes, a value above 8 MiB. Does not look at the hash.
Result<void> check_form(const Batch& batch);

// The clock of the next batch: milliseconds since 1970 in the upper 48 bits, a counter in the lower 16; always above
// what was seen before, so a clock set back never reorders what one copy did. Stays at the largest value once there.
std::int64_t next_clock(std::int64_t last_seen, std::int64_t now_ms);

// By what ops are ranked where parents leave it open: clock first, then address. The same on every copy.
struct Rank {
    std::int64_t clock = 0;
    Writer writer = 0;
    std::uint32_t n = 0;
    std::uint32_t index = 0;

    friend auto operator<=>(const Rank&, const Rank&) = default;
};

}  // namespace tapwright
