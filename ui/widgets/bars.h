// What frames a page: its header, the places, what was saved last, and messages.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

struct HeaderAction {
    std::string name;
    Message what;
    Shape shape = Shape::none;
    bool enabled = true;
};

struct HeaderTouch {
    bool back = false;
    bool job = false;  // its name was touched
    int action = -1;
    Area slot;  // what was asked for beside the title, or in its place
};

struct HeaderOptions {
    Message back_to;  // a key to go back where it is not empty
    std::span<const HeaderAction> actions;
    float slot = 0;          // pixels kept free between title and actions
    bool with_title = true;  // without it the slot takes the title's room too
    std::uint8_t level = 1;  // of the title, as a heading
    Message job = {};        // whose page it is: a line below the title, a key app.job with it; empty: none
};

// A page's title (mark NAME.title), a key to go back (NAME.back) and its actions. The page in hand is called "header".
HeaderTouch page_header(Context& context, std::string_view name, const Message& title, const HeaderOptions& options);

// Its height in pixels, so that a page below can be placed in the same frame. Nothing in it changes that.
float page_header_height(const Context& context);

Message place_name(PlaceId place);
// What names its marks and pages: "survey".
std::string_view place_key(PlaceId place);
Shape place_shape(PlaceId place);

// The places along the bottom; where their words have no room side by side, that of the one in hand alone. Marks
// "place.survey" ... "place.handover".
// Returns: the place that was tapped, or -1.
int place_bar(Context& context, PlaceId current);
// Its height in pixels.
float place_bar_height(Context& context, float width);
// The same as a list at the side of a wide window; how wide it needs to be, in pixels, for its longest word.
float place_list_width(Context& context);
int place_list(Context& context, PlaceId current);
// And as a rail of signs and words at the side of a low one, over the height that is left.
float place_rail_width(Context& context);
int place_rail(Context& context, PlaceId current);

// What was saved last, as long as it stands there.
struct KeptWords {
    std::string time;
    Message what;
};
// "Saved 14:02" and what it was, in the height given, the second shortened to `most_lines`. It has no keys: a touch
// puts it away. Mark "kept". Returns: true when it was touched.
bool kept_bar(Context& context, const KeptWords& kept, float height, int most_lines = 1);

enum class MessageEvent { none, dismiss, open };
// A sentence over the page, until it is dismissed, in the height given: as many lines as that holds; a touch opens what
// has no room. Marks NAME and NAME.dismiss.
MessageEvent message_bar(Context& context, std::string_view name, Tone tone, const Message& sentence, float height);

}  // namespace tapwright::ui
