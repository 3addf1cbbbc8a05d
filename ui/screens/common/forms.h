// Fields of any record as rows to touch and type in, made from the field table.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>

#include "core/job/field_text.h"
#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// What is being typed into the fields of one record. Belongs to a screen.
struct FormState {
    std::map<std::string, Draft, std::less<>> drafts;
};

// One field with its keeping: choices and flags as buttons (the chosen one again: unknown), references as a row that
// opens a list to pick from, everything else as text. Marks PREFIX.FIELD. Does nothing for what cannot be typed
// (signatures, changes, hashes, pins).
// Requires: the record exists; `state` belongs to a screen.
void field_row(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind, const Id& id,
               const FieldInfo& field);

// A page of records to pick one from, by typing or touching; `pick` gets an empty id for "none".
struct PickOptions {
    Message title;
    KindSet kinds;
    Id current;
    Id not_this;  // left out: the record itself
    bool may_be_none = true;
    bool points_of_kind = false;  // only points of `point_kind`
    PointKind point_kind = PointKind::attenuator;
};
std::unique_ptr<Screen> pick_screen(Shared& shared, PickOptions options, std::function<void(Context&, const Id&)> pick);

// Opens the list of zones to take one in hand.
void pick_zone_in_hand(Context& context, Shared& shared);

// The zone in hand, and a way to another: buttons side by side where there is room, else a row that opens the list.
// Marks NAME, or NAME.0, NAME.1 ... Draws nothing while there are fewer than two zones.
void zone_row(Context& context, Shared& shared, std::string_view name);

}  // namespace tapwright::ui
