// Clock and chance: where the Stamps of a request come from.
#pragma once

#include "core/session/stamp.h"

namespace tapwright {

// Now, in the local time of the zone the device is in now, with 64 fresh random bits as seed. Not before 2000-01-01, as
// a device without power for its clock wakes up in 1970, and not beyond the year 9999. In UTC where the zone's time
// cannot be written as RFC 3339 has it: an offset of parts of a minute or of a day and more.
//
// For tests and reproducible sheets the environment variable SOURCE_DATE_EPOCH (seconds since 1970; the convention of
// reproducible-builds.org) fixes the time, shown in UTC. A value that is no such number, or beyond the year 9999, is
// passed over.
Stamp make_stamp();

// A moment as RFC 3339 writes it, in the local time of the zone the device is in now, or in UTC as above; what is none,
// as it stands.
std::string in_local_time(const std::string& time);

}  // namespace tapwright
