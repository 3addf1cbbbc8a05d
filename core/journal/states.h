// Names for what a job was at one moment, and the way back from a name to that moment.
//
// A state is a set of batches with all their predecessors. Its hash is the SHA-256 over the hashes of those batches
// that nothing in the set follows, ascending: as each batch's hash covers what it follows, this names the whole set.
// Batches that do nothing but record that a sheet was made or that somebody signed are left out and looked through, so
// making a sheet does not change the state that it is the sheet of, nor signing the state that is signed. The position
// is how many batches the set has.
//
// A state is found again in any copy that holds its batches: as one this file went through, or as what the author of a
// sheet's record saw.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string_view>
#include <vector>

#include "core/journal/log.h"

namespace tapwright {

struct StateMark {
    Digest hash{};
    std::uint64_t position = 0;
};

// The first twelve digits of a state's hash in groups of four: "3f9a-1c22-07be". What people copy from a sheet.
std::string short_code(const Digest& state);

// The hexadecimal digits of a hash or short code, in lower case and without hyphens and blanks. Returns: nothing when
// it is not 8 to 64 of them.
std::optional<std::string> state_digits(std::string_view text);

class States {
public:
    // Batches with predecessors first, as Journal::for_each_batch gives them.
    void add(const Batch& batch);

    StateMark now() const;

    struct Found {
        StateMark state;
        std::vector<bool> holds;  // of each batch in the order they were added
        std::size_t latest = 0;   // the batch of the greatest clock in it
    };
    // The state whose hash begins with these digits (see state_digits()): first as one this file went through,
    // the latest first, then as what the author of a sheet's record saw. Returns: nothing when no state looked at has
    // such a hash. A file with many changes side by side makes each state a long list; the search ends after
    // `most_hashed` hashes in all of them, and is_cut says that it did.
    struct Search {
        std::optional<Found> found;
        bool is_cut = false;
    };
    static constexpr std::size_t most_hashed = 2'000'000;
    Search find(std::string_view digits, std::size_t most = most_hashed) const;

    // Whether the batch does nothing but record sheets and sign-offs. Requires: number < how many were added.
    bool is_record(std::size_t number) const { return nodes_[number].is_record; }

private:
    struct Node {
        Digest hash{};
        std::int64_t clock = 0;
        bool is_record = false;
        std::vector<std::uint32_t> follows;  // real batches only, those behind records in place of the records
    };

    Digest hash_of(const std::set<std::uint32_t>& tips) const;
    std::vector<bool> closure(const std::vector<std::uint32_t>& from) const;
    Found found(std::vector<bool> holds) const;
    // `left`: how many hashes may still go into states; counted down.
    Search find_on_the_way(std::string_view digits, std::size_t& left) const;
    Search find_in_records(std::string_view digits, std::size_t& left) const;

    std::vector<Node> nodes_;
    std::map<Digest, std::uint32_t> numbers_;
    std::set<std::uint32_t> tips_;
    std::uint64_t position_ = 0;
};

}  // namespace tapwright
