// Every widget on one page, with made-up data: for looking at, and for tests that hold all of them to the same rules.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "ui/app/app.h"
#include "ui/drawings/line_drawing.h"
#include "ui/drawings/load_strip.h"
#include "ui/widgets/chart.h"
#include "ui/widgets/widgets.h"

namespace tapwright::tests {

// What was done to the gallery, for tests to look at.
struct GalleryLog {
    std::vector<std::string> taps, long_presses, kept;
    int chosen = 1, count = 4, strip_block = -1, line_point = -1;
    bool on = false, sheet_open = false, pad_open = false;
    std::string room = "Dining room", search;
    ui::Draft draft;
    ui::PadDraft pad;
    ui::LineView view, beside_view;
};

// The gallery's pages, for each place one: buttons and rows, fields, drawings, readings, messages, an empty page.
std::unique_ptr<ui::Screen> gallery_page(ui::PlaceId place, GalleryLog& log);
ui::AppParts gallery_parts(GalleryLog& log);

ui::LoadStripData strip_within();
ui::LoadStripData strip_over();
// A bush of `count` points: a string with branches of three every fifth point.
ui::LineDrawingData line_of(int count);

}  // namespace tapwright::tests
