// A job as one JSON file, the form records.md describes: { "tapwright_job": 1, "job": {...}, "rooms": [...], ... }.
//
// Reading takes a file whole or not at all, and every refusal names the place by JSON pointer. Writing gives the
// canonical form: equal jobs give equal bytes.
#pragma once

#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/job/job.h"

namespace tapwright {

// What a JSON job says, as changes to an empty job, with the place of each for sentences.
struct JobText {
    ChangeList changes;
    std::vector<std::string> pointers;  // of each change: "/points/3"

    // "house.json, at /points/3/tap_w".
    Message place_of(std::size_t change, std::string_view field) const;
    // The same as text, until Command::place is a message.
    std::string place(std::size_t change, std::string_view field) const;
    std::string what;  // the input's name
};

// Checks shape, keys and ids; forms and relations are decide()'s. `what` names the input in sentences.
Result<JobText> read_job(std::string_view text, std::string_view what);

// The canonical text of a job.
std::string write_job(const Job& job);

// A list of changes as `trial` and trials[] hold it: [{"op": ..., "kind": ..., "id": ..., "fields": {...}}].
// Also takes { "name": ..., "changes": [...] }. Errors: no such list, or a change in it that has not that form.
Result<ChangeList> read_changes(std::string_view text, std::string_view what);

}  // namespace tapwright
