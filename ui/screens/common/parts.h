// The screens of the program, put together: what fills the frame of ui/app/app.h.
#pragma once

#include <memory>

#include "ui/app/app.h"
#include "ui/app/shortcuts.h"
#include "ui/screens/common/screen.h"

namespace tapwright::ui {

// The strip of the zone in hand, and what it opens over the page.
class LoadStrip : public TitledScreen {
public:
    using TitledScreen::TitledScreen;
    virtual void draw_line(Context& context, float height) = 0;  // pixels
    virtual void draw_open(Context& context) = 0;
};

// Everything the window shows. `shared` outlives the app.
AppParts make_parts(Shared& shared);

// ---- the first screen of each place, and what leads to others; each in the file of its name ----
std::unique_ptr<Screen> opening_screen(Shared& shared);
std::unique_ptr<Screen> survey_screen(Shared& shared);
std::unique_ptr<Screen> rooms_screen(Shared& shared);
std::unique_ptr<Screen> room_screen(Shared& shared, const Id& room);
std::unique_ptr<Screen> room_survey_screen(Shared& shared, const Id& room);
std::unique_ptr<Screen> point_screen(Shared& shared, const Id& point);
std::unique_ptr<Screen> record_screen(Shared& shared, Kind kind, const Id& id);  // any record, from the field table
std::unique_ptr<Screen> records_screen(Shared& shared, Kind kind);               // all of a kind, and a new one
// Amplifiers, their outputs, the zones on them and their limits, on one page.
std::unique_ptr<Screen> set_up_screen(Shared& shared);
std::unique_ptr<Screen> find_screen(Shared& shared);
std::unique_ptr<LoadStrip> strip_screen(Shared& shared);
std::unique_ptr<Screen> beside_screen(Shared& shared);
std::unique_ptr<Screen> lines_screen(Shared& shared);
std::unique_ptr<Screen> readings_screen(Shared& shared);
std::unique_ptr<Screen> snags_screen(Shared& shared);
std::unique_ptr<Screen> handover_screen(Shared& shared);
std::unique_ptr<Screen> kept_jobs_screen(Shared& shared);  // where jobs lie inside the program: duplicated and deleted
std::unique_ptr<Screen> settings_screen(Shared& shared);   // of the person and the window; and the way to another job

}  // namespace tapwright::ui
