// Fields that hold several things: ids of what a control governs, attenuators as they stood while a reading was taken.
#pragma once

#include <optional>
#include <string>

#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// The chosen records, each a row that a touch takes out, and a row that opens a list to add one. Marks NAME.ID,
// NAME.add.
void id_list_field(Context& context, Shared& shared, const std::string& name, Kind kind, const Id& id,
                   const FieldInfo& field);

// The attenuators on the line where the reading was taken, each with the steps of its type. Marks NAME.ID.0 ...
// Says so where there is none.
void knob_map_field(Context& context, Shared& shared, const std::string& name, const Id& reading,
                    const FieldInfo& field);

// One attenuator's steps as buttons, `now` chosen. Returns: what was touched, a null value when that was the chosen
// one; nothing else. Draws nothing, and returns nothing, where the type tells no steps. Marks NAME.0 ...
std::optional<Value> knob_row(Context& context, const std::string& name, const Point& attenuator,
                              const std::optional<Knob>& now);

// The attenuators on the line of a zone, point or channel's record `at`, as places in job.all<Point>().
std::vector<std::uint32_t> attenuators_at(const Session& session, const Id& at);

}  // namespace tapwright::ui
