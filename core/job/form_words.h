// What a field takes, as whole sentences. Used by the codecs alone; everybody else asks check_form().
#pragma once

#include "core/job/field_table.h"

namespace tapwright::codec {

// "“five”", "-5", "a list": a value within a sentence that says what it is not.
Message given_as_message(const Value& value);

// "Write a figure from 0.001 W to 1000000 W, not -5.": of one item where the field holds a list.
Message wanted(const FieldInfo& field, const Argument& given);
// The same where only nothing may be nearer to 0 (Rule::grain).
Message nearer_to_zero(const FieldInfo& field, const Argument& given);

}  // namespace tapwright::codec
