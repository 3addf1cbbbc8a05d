// A room seen from above, to scale: its floor with a grid, and what hangs in it where it is. Touched, it says where;
// what hangs in it can be dragged.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

struct PlanSpot {
    std::string id;  // its mark is NAME.spot.ID
    Message label;
    Shape shape = Shape::loudspeaker;
    float x = 0, y = 0;  // metres from the upper left corner, along the length and along the width
};

struct RoomPlanData {
    float length = 1, width = 1;  // metres, > 0
    float grid = 1;               // metres between its lines
    std::vector<PlanSpot> spots;
    int selected = -1;
    Message words;  // what it shows, for who cannot see it
};

struct PlanTouch {
    int spot = -1;                              // touched
    std::optional<std::array<float, 2>> floor;  // touched where no spot is: metres, within the floor
    std::array<float, 2> step = {0, 0};         // metres that the arrow keys move what is selected
    bool entered = false;                       // Enter or Space on the plan
    // A spot that was dragged and let go, and where it is then: metres, within the floor.
    struct Dropped {
        int spot = 0;
        std::array<float, 2> at = {0, 0};
    };
    std::optional<Dropped> dropped;
    bool turned = false;  // it was drawn with its length downwards
};

// The distance between grid lines for a floor of that size: 1, 2, 5, 10 ... metres, at most 24 along either side.
float grid_of(float length, float width);

// Draws it over the width left, at most `height` pixels high, spots of equal size whatever the scale. Where the floor
// is drawn larger that way it is turned by a quarter, clockwise. Marks NAME and NAME.spot.ID. A spot is touched within
// a finger of its middle, of several the nearest; or by its name. A drag that begins on a spot moves it and never
// scrolls the page.
PlanTouch room_plan_drawing(Context& context, std::string_view name, const RoomPlanData& data, float height);

}  // namespace tapwright::ui
