// What is on the screen, by name: the address book that tests and outside drivers use, rebuilt with every frame.
//
// A mark is anything that can be touched or that shows something worth checking. A piece of text is anything our
// widgets wrote, with the box it was meant to fit in. Both are plain values; looking at them draws nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/host.h"

namespace tapwright::ui {

struct Mark {
    std::string name;  // unique in a frame, for example "rooms.add"
    Area area;         // whole rectangle, in window pixels
    Area shown;        // what of it is inside its clip rectangle; width or height 0 when nothing is
    bool enabled = true;
    bool touchable = true;  // false for marks that only show something
    std::string text;       // its words, as a person would read them

    // At least half of it is on the screen, so its middle can be touched.
    bool visible() const {
        return shown.width * shown.height >= 0.5f * area.width * area.height && shown.width > 0 && shown.height > 0;
    }
};

struct TextPiece {
    Area area;               // of the glyphs' line box
    Area box;                // the room its widget gave it
    Area clip;               // what the window would clip it to
    unsigned layer = 0;      // pieces of one layer must not overlap; sheets and dialogs are layers of their own
    bool shortened = false;  // cut on purpose, with an ellipsis; `full` has the whole text
    std::string full;
};

class Marks {
public:
    void begin_frame();
    void add(Mark mark);
    void add(TextPiece piece);

    const std::vector<Mark>& all() const { return marks_; }
    const std::vector<TextPiece>& texts() const { return texts_; }

    // Returns: the mark of that name, or nullptr. The last one drawn wins, since it lies on top.
    const Mark* find(std::string_view name) const;

    // A JSON array of {name, rect [x, y, w, h], visible, enabled, text}, in drawing order, ending in a newline.
    std::string json() const;

private:
    std::vector<Mark> marks_;
    std::vector<TextPiece> texts_;
};

// Returns: the part of `area` inside `clip`; zero width and height when they do not meet.
Area intersection(const Area& area, const Area& clip);

}  // namespace tapwright::ui
