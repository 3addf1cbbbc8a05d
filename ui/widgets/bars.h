// What frames a page: its header, the places, what was kept last, and messages.
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
    int action = -1;
};

// A page's title (mark NAME.title), with a key to go back (NAME.back, when `back_to` is not empty) and at most three
// actions. The page in hand is called "header".
HeaderTouch page_header(Context& context, std::string_view name, const Message& title, const Message& back_to,
                        std::span<const HeaderAction> actions = {});

// Its height in pixels, so that a page below can be placed in the same frame.
float page_header_height(Context& context, const Message& title, bool leads_back, std::size_t actions, float width);

Message place_name(PlaceId place);
// What names its marks and pages: "survey".
std::string_view place_key(PlaceId place);
Shape place_shape(PlaceId place);

// The places along the bottom, in two rows where one is too narrow. Marks "place.survey" ... "place.handover".
// Returns: the place that was tapped, or -1.
int place_bar(Context& context, PlaceId current);
// Its height in pixels.
float place_bar_height(Context& context, float width);
// The same as a list at the side of a wide window; how wide it needs to be, in pixels, for its longest word.
float place_list_width(Context& context);
int place_list(Context& context, PlaceId current);

enum class KeptEvent { none, act, dismiss };
enum class KeptAction { none, undo, redo };
// "Undo", "Redo", or nothing.
Message action_word(KeptAction action);
// "Saved 14:02", as the first line of the bar says it.
Message kept_at(std::string_view time);
// "Saved 14:02", what it was, and what can be done about it in place. Marks "kept", "kept.undo" or "kept.redo",
// "kept.dismiss".
KeptEvent kept_bar(Context& context, std::string_view time, const Message& what, KeptAction action);

// A sentence over the page, until it is dismissed. Marks NAME and NAME.dismiss. Returns: true when it was.
bool message_bar(Context& context, std::string_view name, Tone tone, const Message& sentence);

}  // namespace tapwright::ui
