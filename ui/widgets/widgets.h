// The vocabulary that screens are written in. Including this gets all of it.
//
// Every widget takes the context first and, when it can be touched, a name that is unique on the screen: the name is
// its mark ("rooms.add") and its identity. Widgets flow from top to bottom and take the width that is left;
// beside(context) puts the next one on the same line. Whatever can be touched is at least 48 units high and wide, works
// with Enter and Space when focused, and shows its focus. Texts wrap; where one is shortened, that is part of the
// widget's description.
#pragma once

#include "ui/frame/text.h"          // IWYU pragma: export
#include "ui/widgets/bars.h"        // IWYU pragma: export
#include "ui/widgets/buttons.h"     // IWYU pragma: export
#include "ui/widgets/fields.h"      // IWYU pragma: export
#include "ui/widgets/layout.h"      // IWYU pragma: export
#include "ui/widgets/number_pad.h"  // IWYU pragma: export
#include "ui/widgets/rows.h"        // IWYU pragma: export
#include "ui/widgets/sheet.h"       // IWYU pragma: export
#include "ui/widgets/signature.h"   // IWYU pragma: export
#include "ui/widgets/touchable.h"   // IWYU pragma: export
