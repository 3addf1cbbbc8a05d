// A cause on the page that finds a fault: how likely it is as a bar with its figure, and what it is.
#pragma once

#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

struct ChanceBar {
    double chance = 0;  // 0..1
    Message figure;     // "63 %"
    Message text;
    bool is_open = false;  // what it explains stands below it
    bool is_touchable = true;
};

// Over the whole width, itself a touch target. Returns: whether it was tapped.
bool chance_bar(Context& context, std::string_view name, const ChanceBar& bar);

}  // namespace tapwright::ui
