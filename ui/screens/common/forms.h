// Fields of any record as rows to touch and type in, made from the field table.
#pragma once

#include <functional>
#include <initializer_list>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/job/field_text.h"
#include "ui/screens/common/library.h"
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

// The fields of a kind as a form shows them: those people need first come first (a zone's limit, the size of a cable as
// the job writes lengths), the rest as the table has them.
std::vector<const FieldInfo*> fields_in_order(Kind kind, LengthUnits lengths);
// Those a new record is asked for before it is added: what it cannot be without, and what it is nearly useless without.
std::vector<const FieldInfo*> first_fields(Kind kind, LengthUnits lengths);

// The figures of one record side by side, where each has room for its hint; Marks PREFIX.FIELD.
void figures_in_a_row(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind,
                      const Id& id, std::initializer_list<std::string_view> names);
// The name of a record in a column of so many pixels, labelled with what it is: "Zone". Mark PREFIX.name.
void name_in_a_column(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind,
                      const Id& id, float width, float label_height);
// All fields of a record, in order; a room's length, width and height in one row.
void record_fields(Context& context, Shared& shared, FormState& state, std::string_view prefix, Kind kind, const Id& id,
                   std::span<const FieldInfo* const> fields);

// What a field shows while it is empty: what holds then, the unit, or an example.
Message hint_of(const FieldInfo& field, LengthUnits lengths);

// A page of records to pick one from, by typing or touching; `pick` gets an empty id for "none".
struct PickOptions {
    Message title;
    KindSet kinds;
    Id current;
    Id not_this;  // left out: the record itself
    bool may_be_none = true;
    bool points_of_kind = false;  // only points of `point_kind`
    PointKind point_kind = PointKind::attenuator;
    // A type of an earlier job was picked: records the choice and the type in one batch. Where there is none the type
    // is added by itself, and picked once it is there.
    std::function<void(Context&, const EarlierType&)> bring = {};
};
std::unique_ptr<Screen> pick_screen(Shared& shared, PickOptions options, std::function<void(Context&, const Id&)> pick);

// Opens the list of zones to take one in hand.
void pick_zone_in_hand(Context& context, Shared& shared);

// The zone in hand, and a way to another: buttons side by side where there is room, else a row that opens the list.
// Marks NAME, or NAME.0, NAME.1 ... Draws nothing while there are fewer than two zones.
void zone_row(Context& context, Shared& shared, std::string_view name);

}  // namespace tapwright::ui
