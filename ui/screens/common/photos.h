// Photos of a record: thumbnails, one in full with its pin, and taking more in.
#pragma once

#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// All photos of the job, the latest first; what each is of stands below it. None is taken in here.
std::unique_ptr<Screen> all_photos_screen(Shared& shared);
// All photos of one record, the latest first.
std::unique_ptr<Screen> photos_screen(Shared& shared, const Id& about);
// A button "Photos (2)" that opens them. Marks NAME.
void photos_button(Context& context, Shared& shared, std::string_view name, const Id& about);

}  // namespace tapwright::ui
