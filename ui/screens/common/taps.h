// Choosing a tap with its consequence in sight: a row of buttons, on each the headroom it would leave.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/screens/common/cached.h"
#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// The taps there are to choose from and what each would leave, worked out once for each state of the job: one tap a
// frame, since each is a trial of the whole job. Until then its key says so, and can be touched.
class TapChoice {
public:
    explicit TapChoice(Shared& shared) : shared_(shared) {}

    // Works out the consequences of giving all `points` each tap of `type` (of the common ones where the type is not
    // known), or of adding one loudspeaker with these fields when `points` is empty.
    void look(Context& context, const std::vector<Id>& points, const Id& type, const Map& new_fields = {});

    // The row. Marks NAME.0 ... `chosen`: the tap that is set. Returns: the index that was tapped, or -1.
    int draw(Context& context, std::string_view name, const std::optional<Watts>& chosen) const;

    Watts watts(int index) const { return options_[static_cast<std::size_t>(index)].watts; }
    // Empty where the tap stays within every limit; else a sentence that says which it would go beyond.
    const Message& warning(int index);
    bool empty() const { return options_.empty(); }

private:
    struct Option {
        Watts watts{0};
        Message label, detail, warning;
        Tone tone = Tone::plain;
        bool worked_out = false;
    };
    void begin(const Session& session, const Id& type);
    void work_out(Option& option) const;
    void work_out_zone(Option& option, const Proposal& proposal) const;

    Shared& shared_;
    std::vector<Option> options_;
    const Session* session_ = nullptr;  // of the frame
    std::vector<Id> points_;
    Map new_fields_;
    int frame_ = -1;                       // in which an option was worked out last
    Seen<std::vector<Id>, Id, Map> seen_;  // points, type, fields
};

}  // namespace tapwright::ui
