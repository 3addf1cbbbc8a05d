// The vocabulary that screens are written in. Including this gets all of it.
//
// Every widget takes the context first and, when it can be touched, a name that is unique on the screen: the name is
// its mark ("rooms.add") and its identity. Widgets flow from top to bottom and take the width that is left;
// beside(context) puts the next one on the same line. Whatever can be touched is at least 48 units high and wide, works
// with Enter and Space when focused, and shows its focus. Texts wrap; where one is shortened, that is part of the
// widget's description.
#pragma once

#include "ui/bars.h"        // IWYU pragma: export
#include "ui/buttons.h"     // IWYU pragma: export
#include "ui/fields.h"      // IWYU pragma: export
#include "ui/layout.h"      // IWYU pragma: export
#include "ui/number_pad.h"  // IWYU pragma: export
#include "ui/rows.h"        // IWYU pragma: export
#include "ui/sheet.h"       // IWYU pragma: export
#include "ui/text.h"        // IWYU pragma: export
#include "ui/touchable.h"   // IWYU pragma: export
