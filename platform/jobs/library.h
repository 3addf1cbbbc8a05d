// The person's own library: the loudspeaker types, attenuator types and cables of their jobs, to be offered in the next
// one. One file in the configuration folder beside the settings, library.json, in the form of a job as JSON
// (docs/records.md), so that whatever reads a job reads it.
//
// A type is known by its kind and name. What is in the library stays until the same type is changed in a job: opening
// an old job takes nothing back.
#pragma once

#include <string>

#include "core/base/result.h"
#include "core/job/job.h"

namespace tapwright {

class Library {
public:
    Library();  // holds nothing yet

    // What the file holds; nothing where there is none. Errors: a sentence, where it is damaged.
    static Result<Library> load();
    // Errors: a sentence, where it cannot be written.
    Result<void> save() const { return write(path()); }
    Result<void> write(const std::string& file) const;
    // Types and cables of any job as JSON. Returns: how many were new or different.
    Result<int> import(const std::string& file);
    // The same of a text; `what` names it in sentences.
    Result<int> import_text(const std::string& text, const std::string& what);

    // A job that holds nothing else.
    const Job& types() const { return types_; }
    // Takes what is new in `job`, and what differs there from `before`, the same job when it was opened.
    // Returns: how many were new or different.
    int take(const Job& job, const Job& before);

    static std::string path();

private:
    int take_one(Kind kind, const std::string& name, const Id& id, const Map& fields, bool replaces);

    Job types_;
    std::uint32_t made_ = 0;
};

}  // namespace tapwright
