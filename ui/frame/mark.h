// What is on the screen, by name: the address book that tests, outside drivers and screen readers use, rebuilt with
// every frame.
//
// A mark is anything that can be touched or that shows something worth checking. A piece of text is anything our
// widgets wrote, with the box it was meant to fit in. Both are plain values; looking at them draws nothing.
//
// reading() puts both together for somebody who listens: what each thing is, what it is called, what it says, in the
// order in which one reads it. A word is in it once: what a mark says is not there again as a piece of text.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ui/frame/host.h"

namespace tapwright::ui {

// What a mark is to somebody who listens.
enum class Role : std::uint8_t {
    none,     // nothing to say: the room of a page
    text,     // a sentence or a figure
    heading,  // with its level
    status,   // a verdict: said by itself when it changes
    alert,    // said at once
    image,    // a drawing, in words
    button,
    row,           // of a list; leads somewhere
    place,         // one of the program's places
    text_field,    // typed into
    number_field,  // the same, a figure
    toggle,        // on or off
    tick,          // one of several, any number of which may be chosen
    choice,        // one of several, one of which may be chosen
};
std::string_view word(Role role);

struct Mark {
    std::string name;  // unique in a frame, for example "rooms.add"
    Area area;         // whole rectangle, in window pixels
    Area shown;        // what of it is inside its clip rectangle; width or height 0 when nothing is
    bool enabled = true;
    bool touchable = true;  // false for marks that only show something
    std::string text = {};  // its words, as a person would read them

    Role role = Role::none;
    bool is_on = false;     // of a toggle, a tick or a choice; of a place and a row: it is the one in hand
    bool is_open = false;   // of a key that opens something below it: it is open
    bool opens = false;     // it is such a key
    bool by_place = false;  // what it does depends on where it is touched: a drawing
    std::uint8_t level = 0;
    std::uint16_t part = 0, group = 0;  // Marks::part_name, group_name
    std::uint16_t about = 0;            // which of several things it is about
    bool is_long = false;               // of a field: several lines
    unsigned window = 0;                // the one it is drawn in
    unsigned item = 0;                  // what the keyboard's focus knows it by; 0: it cannot have it
    std::string label = {};             // what it is called, where that is not its words
    std::string value = {};             // what stands in a field
    std::string hint = {};              // what belongs into a field, what a choice is about
    std::string problem = {};           // why what stands in a field was refused

    // At least half of it is on the screen, so its middle can be touched.
    bool visible() const {
        return shown.width * shown.height >= 0.5f * area.width * area.height && shown.width > 0 && shown.height > 0;
    }
    const std::string& said() const { return label.empty() ? text : label; }
};

struct TextPiece {
    Area area;               // of the glyphs' line box
    Area box;                // the room its widget gave it
    Area clip;               // what the window would clip it to
    unsigned layer = 0;      // pieces of one layer must not overlap; sheets and dialogs are layers of their own
    bool shortened = false;  // cut on purpose, with an ellipsis; `full` has the whole text
    std::string full = {};

    unsigned window = 0;           // the one it is drawn in
    std::size_t marks_before = 0;  // how many marks there were when it was written
    std::uint16_t part = 0;
    bool is_heading = false;
    bool is_said = false;  // a mark says it
};

// Where on the screen marks lie, in the order in which they are read; a page's title is in its header.
enum class PartKind : std::uint8_t { window, dialog, header, strip, page, messages, foot, list, beside, places };

class Marks {
public:
    void begin_frame();
    // Closes the frame: `item` has the keyboard's focus, 0 nothing.
    void end_frame(unsigned item) { focused_item_ = item; }
    void add(Mark mark);
    void add(TextPiece piece);

    const std::vector<Mark>& all() const { return marks_; }
    const std::vector<TextPiece>& texts() const { return texts_; }

    // Returns: the mark of that name, or nullptr. The last one drawn wins, since it lies on top.
    const Mark* find(std::string_view name) const;
    // The mark added last, to say more about it.
    // Requires: there is one.
    Mark& last() { return marks_.back(); }
    TextPiece* last_text() { return texts_.empty() ? nullptr : &texts_.back(); }

    // What is added while one of these lives belongs there. InPart, InGroup, About, SaidByMark.
    struct Where {
        std::uint16_t part = 0, group = 0, about = 0;
        bool is_said = false;
    };
    Where where() const { return where_; }
    void go_to(Where where) { where_ = where; }
    std::uint16_t new_part(PartKind kind, std::string_view name);
    std::uint16_t new_group(std::string_view name);
    std::uint16_t new_about(std::string words);

    const std::string& part_name(const Mark& mark) const { return parts_[mark.part].name; }
    PartKind part_kind(const Mark& mark) const { return parts_[mark.part].kind; }
    const std::string& group_name(const Mark& mark) const { return groups_[mark.group]; }
    // It lies behind a dialog and waits.
    bool is_behind(const Mark& mark) const { return top_dialog_ != 0 && mark.part != top_dialog_; }
    bool is_focused(const Mark& mark) const { return mark.item != 0 && mark.item == focused_item_; }

    // Everything in the order in which it is read, text that no mark says among it, called "text.1", "text.2" ...
    // What a touchable mark around it says already has no role; what is about one of several things has its name before
    // its own.
    std::vector<Mark> reading() const;

    // A JSON array of everything in reading order, ending in a newline: {name, rect [x, y, w, h], visible, enabled,
    // text, role, touchable}, and where there is something to say: label, value, hint, problem, level, on, open,
    // focused, behind, by_place, long, part, dialog, group.
    std::string json() const;

private:
    struct Part {
        PartKind kind = PartKind::window;
        std::string name;
    };
    std::vector<Mark> marks_;
    std::vector<TextPiece> texts_;
    std::vector<Part> parts_{1};
    std::vector<std::string> groups_{1}, abouts_{1};
    Where where_;
    std::uint16_t top_dialog_ = 0;
    unsigned focused_item_ = 0;
};

// Scopes of what is added to the marks.
class MarkScope {
public:
    ~MarkScope() { marks_.go_to(before_); }
    MarkScope(const MarkScope&) = delete;
    MarkScope& operator=(const MarkScope&) = delete;

protected:
    explicit MarkScope(Marks& marks) : marks_(marks), before_(marks.where()) {}
    Marks& marks_;
    const Marks::Where before_;
};

// With `is_one` false it stays the part around it.
struct InPart : MarkScope {
    InPart(Marks& marks, PartKind kind, std::string_view name, bool is_one = true) : MarkScope(marks) {
        if (is_one) marks.go_to({marks.new_part(kind, name), 0, 0, before_.is_said});
    }
};

// Choices that belong together.
struct InGroup : MarkScope {
    InGroup(Marks& marks, std::string_view name) : MarkScope(marks) {
        marks.go_to({before_.part, marks.new_group(name), before_.about, before_.is_said});
    }
};

// Keys and fields of one of several things, by its name: what "Edit" edits.
struct About : MarkScope {
    About(Marks& marks, std::string words) : MarkScope(marks) {
        marks.go_to({before_.part, before_.group, marks.new_about(std::move(words)), before_.is_said});
    }
};

// What is written while it lives is said by a mark.
struct SaidByMark : MarkScope {
    explicit SaidByMark(Marks& marks) : MarkScope(marks) {
        marks.go_to({before_.part, before_.group, before_.about, true});
    }
};

// Returns: the part of `area` inside `clip`; zero width and height when they do not meet.
Area intersection(const Area& area, const Area& clip);

}  // namespace tapwright::ui
