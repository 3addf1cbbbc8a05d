// What frames a page: its header, the places, what was kept last, and messages.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "ui/frame/context.h"
#include "ui/frame/shapes.h"

namespace tapwright::ui {

struct HeaderAction {
    std::string name, what;
    Shape shape = Shape::none;
    bool enabled = true;
};

struct HeaderTouch {
    bool back = false;
    int action = -1;
};

// A page's title (mark NAME.title), with a key to go back (NAME.back, when `back_to` is not empty) and at most three
// actions. The page in hand is called "header".
HeaderTouch page_header(Context& context, std::string_view name, std::string_view title, std::string_view back_to,
                        std::span<const HeaderAction> actions = {});

// Its height in pixels, so that a page below can be placed in the same frame.
float page_header_height(Context& context, std::string_view title, bool leads_back, std::size_t actions, float width);

const char* place_name(PlaceId place);
Shape place_shape(PlaceId place);

// The places along the bottom, in two rows where one is too narrow. Marks "place.survey" ... "place.handover".
// Returns: the place that was tapped, or -1.
int place_bar(Context& context, PlaceId current);
// Its height in pixels.
float place_bar_height(Context& context, float width);
// The same as a list at the side of a wide window.
int place_list(Context& context, PlaceId current);

enum class KeptEvent { none, act, dismiss };
enum class KeptAction { none, undo, redo };
// "Undo", "Redo", or nothing.
const char* action_word(KeptAction action);
// "Kept 14:02", what it was, and what can be done about it in place. Marks "kept", "kept.undo" or "kept.redo",
// "kept.dismiss".
KeptEvent kept_bar(Context& context, std::string_view time, std::string_view what, KeptAction action);

// A sentence over the page, until it is put away. Marks NAME and NAME.dismiss. Returns: true when it was put away.
bool message_bar(Context& context, std::string_view name, Tone tone, std::string_view sentence);

}  // namespace tapwright::ui
