// A field's value as people type and read it: on the command line (field=value), in forms and in sentences. Files do
// not come by here (core/job/json.h).
//
// The figures are read and shown by core/units/show.h. Words of choices may be typed with blanks, hyphens and capitals
// ("First fix"), flags as yes or no, figures in a row as printed ("1.5/3/6", "1,5 3 6": parse_numbers has the rule; an
// attenuator's steps without their minus), other lists with commas or semicolons, maps as name=value pairs ("a1=-6,
// a2=off") or as JSON, signatures and changes as JSON.
#pragma once

#include <string>
#include <string_view>

#include "core/base/result.h"
#include "core/job/field_table.h"
#include "core/job/job.h"
#include "core/units/unit.h"

namespace tapwright {

// The unit of a field's numbers; Unit::none where they have none.
Unit unit_of_field(const FieldInfo& field);
// The unit a reading's value is in.
Unit unit_of_reading(Measured quantity);
LengthUnits length_units(const Job& job);

// The value that `text` means for this field; blank text is null, which clears. Blanks at the ends of texts go. What it
// returns has the field's form.
// Errors: whole sentences without a place, as check_form's: "“5 V” is in volts. Write watts, for example 7.5 W."
Result<Value> value_from_text(const FieldInfo& field, std::string_view text, LengthUnits lengths = LengthUnits::metric);

// The value for a person to read: figures with their units, choices and flags by their words, days and times as such;
// null is "unknown". With a job, ids are shown by the name of what they refer to.
Message message_of(const FieldInfo& field, const Value& value, const Job* job = nullptr);

// What holds while the field is absent: "70.7 V", "direct", "the job's"; "unknown" where nothing does.
Message absent_means(const FieldInfo& field);

// The text to put into a field for editing: value_from_text() reads exactly `value` from it, apart from blanks at the
// ends of a text. Null is the empty text. Requires: the value has the field's form.
std::string editable_text(const FieldInfo& field, const Value& value, LengthUnits lengths = LengthUnits::metric);

}  // namespace tapwright
