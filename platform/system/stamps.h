// Clock and chance: where the Stamps of a request come from.
#pragma once

#include "core/session/stamp.h"

namespace tapwright {

// Now, in local time, with a fresh random seed. Not before 2000-01-01 and never a repeated seed.
//
// For tests and reproducible sheets the environment variable SOURCE_DATE_EPOCH (seconds since 1970; the convention of
// reproducible-builds.org) fixes the time, shown in UTC.
Stamp make_stamp();

}  // namespace tapwright
