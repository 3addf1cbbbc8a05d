// What ties the records of a job together, and where it is broken.
//
// Relations are refused for commands and imports; a merge or an undo can still bring them about. Then they are findings
// of severity stop, and every calculation survives them.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "core/job/job.h"

namespace tapwright {

enum class Breach : std::uint8_t {
    missing_field,    // a required field is absent
    dangling,         // an id names no record
    wrong_kind,       // an id names a record of a kind it may not
    feed_loop,        // following fed_from leads back to the point itself
    tap_not_offered,  // a tap the loudspeaker's type does not have (within 1 %)
    shared_id,        // two records of different kinds have the same id
};

struct BrokenRelation {
    Breach breach = Breach::missing_field;
    Kind kind = Kind::job;
    Id id;                   // of the record that is wrong
    std::string_view field;  // its field; empty for shared_id
    std::string detail;      // the id that dangles, the tap, ...
    friend bool operator==(const BrokenRelation&, const BrokenRelation&) = default;
};

// All of them, in record order. Linear in the number of records.
std::vector<BrokenRelation> broken_relations(const Job& job);

// What is wrong and what would be right, without the place: "There is no record p9. Name the id of a zone or a point."
Message message_of(const Job& job, const BrokenRelation& broken);
// Where, for people: "Fed from of C-104".
Message place_of(const Job& job, const BrokenRelation& broken);

// Whether the type offers this tap, within 1 % (nominal 0.63 W stands for 0.625 W: common practice).
bool offers_tap(const SpeakerType& type, Watts tap);

// Who refers to `id`, as (kind, id, field).
struct Referrer {
    Kind kind = Kind::job;
    Id id;
    std::string_view field;
};
std::vector<Referrer> referrers(const Job& job, const Id& id);
// The same for many ids, in one walk over the records. Parallel to `ids`.
std::vector<std::vector<Referrer>> referrers(const Job& job, std::span<const Id> ids);

}  // namespace tapwright
