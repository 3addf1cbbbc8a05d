// As found and as left: what a technician met on a visit and what they changed, point by point, as plain data for the
// window and the sheet.
//
// As found is the reading of the quantity tap_w that carries the visit, else what stood before the visit's first
// change; as left is what stood after its last. An undo of one of the visit's changes belongs to the visit, whenever it
// is made. In a file that copies were merged into, "before" means the order in which changes came into this file.
#pragma once

#include <string>
#include <vector>

#include "core/session/session.h"

namespace tapwright {

// A field that the visit changed. Null: unknown, absent.
struct VisitField {
    const FieldInfo* field = nullptr;
    Value found;
    Value left;
};

struct VisitPoint {
    Id point;
    PointKind kind = PointKind::speaker;
    std::string label;               // as left; of one that is gone as found
    bool is_new = false;             // made during the visit
    bool is_gone = false;            // removed during the visit
    std::optional<Watts> tap_found;  // absent: unknown, or new
    std::optional<Watts> tap_left;   // absent: unknown, or gone
    bool tap_was_read = false;       // tap_found is what somebody saw, not what the record said
    std::vector<VisitField> fields;  // all others that differ, in the order of the field table
};

// What the visit touched, in the order of its first touch. A point whose tap was read is listed also where nothing was
// changed; one that was changed and changed back is not. Empty for a visit that touched no point.
// Errors: no such visit; a file that cannot be read. Reads the whole file once more.
Result<std::vector<VisitPoint>> visit_changes(const Session& session, const Id& visit);

// The same of every visit of the job, in the order of its records; the file is read once for all.
struct VisitChanges {
    Id visit;
    std::vector<VisitPoint> points;
};
Result<std::vector<VisitChanges>> changes_of_visits(const Session& session);

// What was met at a point and what was left there: "5 W, as seen" and "2.5 W; Heard: ok". What did not change is left
// out, unless somebody looked at it; a message may say nothing.
struct VisitWords {
    Message found;
    Message left;
};
VisitWords words_of(const Job& job, const VisitPoint& point);

}  // namespace tapwright
