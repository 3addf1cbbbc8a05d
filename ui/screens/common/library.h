// Types and cables of the person's earlier jobs, offered where one is chosen or listed.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Those of a kind whose names this job does not have yet; ids of Ports::library().
std::vector<Id> earlier_types(const Shared& shared, const Job& job, Kind kind);

// Their rows below a title, those whose name has `part` in it; nothing where there are none. A touch adds the type to
// the job and hands its id to `then`, once it is on disk; what that asks for must wait for the next frame. Marks
// NAME.ID.
void earlier_rows(Context& context, Shared& shared, const std::string& name, Kind kind, std::string_view part,
                  std::function<void(Context&, const Id&)> then);

// The first few facts of a record, for the line below its name.
Message some_facts(const Job& job, Kind kind, const Id& id);

}  // namespace tapwright::ui
