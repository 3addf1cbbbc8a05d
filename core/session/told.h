// How records and fields are called in the sentences of this folder. Private to core/session.
#pragma once

#include <string>

#include "core/session/session.h"

namespace tapwright {

// A name as people typed it, on one line and not endless.
Entered told_name(const std::string& name);

// "C-101"; a record without a name by its kind and what it is about: "Reading of C-101"; else by its kind alone. The
// job itself is "Job settings". Requires: the job has the record.
Message told_record(const Job& job, Kind kind, const Id& id);

// The same of a record that a batch is about, which may be gone: by the name the batch gives it, else by its name now,
// else by its last. told_called() is "C-101", told_with_kind() "Point C-101".
Message told_called(const Session& session, const Batch& batch, Kind kind, const std::string& id);
Message told_with_kind(const Session& session, const Batch& batch, Kind kind, const std::string& id);

// "Tap of C-101".
Message told_field(const Job& job, Kind kind, const Id& id, const FieldInfo& field);

// A field's value for people, long texts cut.
Message told_value(const FieldInfo& field, const Value& value, const Job& job);

}  // namespace tapwright
