// The search for a fault as a page does it: some of it between two frames, until the causes and the next measurements
// are there; begun anew when the job changes.
#pragma once

#include <optional>
#include <vector>

#include "core/faults/next_measurement.h"
#include "ui/frame/context.h"
#include "ui/screens/common/cached.h"

namespace tapwright::ui {

class FaultSearch {
public:
    // Does so much of it as a frame has room for, and asks for another frame while there is more.
    void look(Context& context, const Id& zone);

    // What the search says instead of an answer; nothing where there is one, or while it goes on.
    const std::optional<Message>& problem() const { return problem_; }
    bool is_done() const { return is_done_; }
    // Whether it takes a few frames only.
    bool is_short() const;
    // While it goes on: how much of it is done, 0..1, near enough.
    float share() const;
    // Requires of these: is_done().
    const Diagnosis& diagnosis() const { return *diagnosis_; }
    const std::vector<Measurement>& next() const { return next_; }
    // How many causes are shown: those of at least 1 %.
    std::size_t shown() const { return shown_; }
    // Changes whenever there is another answer.
    int revision() const { return revision_; }

private:
    void begin(const Session& session, const Id& zone);
    // One piece of the work. Returns: about how many causes it looked at.
    std::size_t work(const Job& job);
    void finish();

    Seen<Id> seen_;
    std::optional<Diagnosis> diagnosis_;
    std::optional<NextMeasurement> search_;
    std::vector<Measurement> next_;
    std::optional<Message> problem_;
    std::size_t shown_ = 0, steps_ = 0;
    bool is_weighed_ = false, is_done_ = false;
    int revision_ = 0, frame_ = -1;
};

}  // namespace tapwright::ui
