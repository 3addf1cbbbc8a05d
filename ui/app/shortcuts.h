// The keyboard's commands: one table, from which the frame acts and the page of shortcuts is written. What is not in
// the table is no shortcut, and what is in it works.
#pragma once

#include <imgui.h>

#include <memory>
#include <span>

#include "ui/frame/context.h"

namespace tapwright::ui {

enum class KeyCommand {
    place,      // one of the six, by its number
    back,       // to the page before
    find,       // anything by typing
    undo,       // the last change
    redo,       // what was taken back last
    shortcuts,  // the page of this table
    moving,     // what the window itself does with keys: focus, and acting on what has it
};

struct Shortcut {
    KeyCommand command;
    PlaceId place;          // of KeyCommand::place
    Pattern what;           // "Take back the last change"
    ImGuiKeyChord keys[2];  // either does it; 0: none
    bool while_typing;      // also while the keys go into a field
    bool needs_job;         // does nothing while no job is open
};

std::span<const Shortcut> shortcut_table();

// Those pressed since the frame before. `typing`: keys go into a field.
std::vector<Shortcut> pressed_shortcuts(bool typing, bool has_job);

// "Ctrl+Shift+Z", "Esc".
Message key_words(ImGuiKeyChord keys);

// The table as a page: what each one does, and its keys. Marks shortcuts.N.
std::unique_ptr<Screen> shortcuts_page();

}  // namespace tapwright::ui
