// The readings on a point's page: the newest ones with what they say, the next one, and "with and without".
#pragma once

#include "ui/screens/common/cached.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/places.h"

namespace tapwright::ui {

// Belongs to the screen of that point.
class PointReadings {
public:
    PointReadings(Shared& shared, Id point) : shared_(shared), entry_(shared), search_(shared), id_(std::move(point)) {}
    // Nothing on a fire or emergency line, which has readings only as history. Marks point.reading.*, point.measure,
    // point.find_fault, point.find_tap, point.readings. Requires: the point is in the job.
    void draw(Context& context);
    // The sheets of a reading that is being taken; after all else of the page.
    void draw_entry(Context& context) { entry_.draw(context); }

private:
    void draw_newest(Context& context);
    bool is_tap_found(const Session& session) const;
    void draw_keys(Context& context, const Point& point);

    Shared& shared_;
    ReadingEntry entry_;
    FindFaultKey search_;
    const Id id_;
    Seen<> seen_;
    std::vector<std::uint32_t> places_;  // all readings here, the newest first
};

}  // namespace tapwright::ui
