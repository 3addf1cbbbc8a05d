// Jobs whose relations are sound and whose figures stand at the ends of what the field table allows: the least, the
// greatest, nearest to zero, and ordinary ones between them.
#pragma once

#include "core/job/value.h"

namespace tapwright::test {

// A job as a file holds it; rapidcheck draws it.
Map any_extreme_job();

}  // namespace tapwright::test
