// The figures of the point that was touched in the line, in a panel that is always there and as high whether a point
// was touched or not, so that nothing moves under the finger.
#pragma once

#include "core/session/session.h"
#include "ui/frame/context.h"

namespace tapwright::ui {

// How high it is at that width, in pixels.
float figures_height(Context& context, float width);

// Over the width left. An empty id, or a point that is gone: what to touch. Mark lines.figures.
void draw_figures(Context& context, const Session& session, const Id& point);

}  // namespace tapwright::ui
