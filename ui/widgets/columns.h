// Columns side by side on a page: each a strip of it that flows from top to bottom like the page itself.
#pragma once

#include <imgui.h>

#include "ui/frame/context.h"

namespace tapwright::ui {

// What is drawn while it lives begins at `at` (window pixels) and takes at most `width`. Whoever draws columns puts the
// cursor below the longest one afterwards.
class Column {
public:
    Column(ImVec2 at, float width);
    ~Column();
    Column(const Column&) = delete;
    Column& operator=(const Column&) = delete;

private:
    float old_region_max_, old_work_max_;
};

// Where the column closed last ends, in window pixels.
float column_bottom();

}  // namespace tapwright::ui
