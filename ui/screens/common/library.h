// Types and cables of the person's earlier jobs, offered where one is chosen or listed.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// Those of a kind whose names this job does not have yet; ids of Ports::library().
std::vector<Id> earlier_types(const Shared& shared, const Job& job, Kind kind);

// A type of an earlier job that was touched: the change that adds it to this one, with an id of its own, and its name.
struct EarlierType {
    tapwright::Change adding;
    Message name;
};

// Their rows below a title, those whose name has `part` in it; nothing where there are none. Nothing is added yet: what
// the type is chosen for goes into the same batch. Marks NAME.ID. Returns: the one that was touched.
std::optional<EarlierType> earlier_rows(Context& context, Shared& shared, const std::string& name, Kind kind,
                                        std::string_view part);

// Adds it by itself; `then` gets its id once it is on disk, and what that asks for must wait for the next frame.
void add_earlier(Context& context, Shared& shared, const EarlierType& type, std::function<void(const Id&)> then);

// The first few facts of a record, for the line below its name.
Message some_facts(const Job& job, Kind kind, const Id& id);

}  // namespace tapwright::ui
