// How far copies of a job have left the device, as people read it in a row.
#pragma once

#include "ui/screens/common/ports.h"
#include "ui/widgets/rows.h"

namespace tapwright::ui {

// "12 changes not exported yet" under the row's title, as a warning; nothing where it is not counted, or none are.
void tell_given_out(const RecentJob& job, Row& row);

}  // namespace tapwright::ui
