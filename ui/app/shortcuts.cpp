#include "ui/app/shortcuts.h"

#include <string>
#include <vector>

#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

constexpr int alt = ImGuiMod_Alt, ctrl = ImGuiMod_Ctrl, shift = ImGuiMod_Shift;
constexpr PlaceId none = PlaceId::survey;

constexpr Shortcut table[] = {
    {KeyCommand::place, PlaceId::survey, Pattern("Go to {place}"), {alt | ImGuiKey_1, 0}, true, true},
    {KeyCommand::place, PlaceId::rooms, Pattern("Go to {place}"), {alt | ImGuiKey_2, 0}, true, true},
    {KeyCommand::place, PlaceId::lines, Pattern("Go to {place}"), {alt | ImGuiKey_3, 0}, true, true},
    {KeyCommand::place, PlaceId::readings, Pattern("Go to {place}"), {alt | ImGuiKey_4, 0}, true, true},
    {KeyCommand::place, PlaceId::snags, Pattern("Go to {place}"), {alt | ImGuiKey_5, 0}, true, true},
    {KeyCommand::place, PlaceId::handover, Pattern("Go to {place}"), {alt | ImGuiKey_6, 0}, true, true},
    {KeyCommand::back, none, Pattern("Back to the page before"), {alt | ImGuiKey_LeftArrow, 0}, true, false},
    {KeyCommand::back, none, Pattern("Close a sheet, or go back"), {ImGuiKey_Escape, 0}, false, false},
    {KeyCommand::find, none, Pattern("Find a room, label or type"), {ctrl | ImGuiKey_F, 0}, true, true},
    {KeyCommand::undo, none, Pattern("Take back the last change"), {ctrl | ImGuiKey_Z, 0}, false, false},
    {KeyCommand::redo, none, Pattern("Make it again"), {ctrl | ImGuiKey_Y, ctrl | shift | ImGuiKey_Z}, false, false},
    {KeyCommand::shortcuts, none, Pattern("Show these shortcuts"), {ImGuiKey_F1, 0}, true, false},
    {KeyCommand::moving, none, Pattern("Next thing on the page"), {ImGuiKey_Tab, ImGuiKey_DownArrow}, false, false},
    {KeyCommand::moving, none, Pattern("The one before"), {shift | ImGuiKey_Tab, ImGuiKey_UpArrow}, false, false},
    {KeyCommand::moving, none, Pattern("Press it"), {ImGuiKey_Enter, ImGuiKey_Space}, false, false},
    {KeyCommand::moving,
     none,
     Pattern("Make the line larger or smaller"),
     {ImGuiKey_Equal, ImGuiKey_Minus},
     false,
     false},
};

Message name_of_key(ImGuiKey key) {
    switch (key) {
        case ImGuiKey_Escape:
            return Message("Esc");
        case ImGuiKey_LeftArrow:
            return Message("Left arrow");
        case ImGuiKey_UpArrow:
            return Message("Up arrow");
        case ImGuiKey_DownArrow:
            return Message("Down arrow");
        case ImGuiKey_Enter:
            return Message("Enter");
        case ImGuiKey_Space:
            return Message("Space bar");
        case ImGuiKey_Tab:
            return Message("Tab key");
        case ImGuiKey_Equal:
            return Message("Plus");
        case ImGuiKey_Minus:
            return Message("Minus");
        default:
            return code(ImGui::GetKeyName(key));
    }
}

class ShortcutsPage : public Screen {
public:
    Message title(Context&) override { return Message("Keyboard shortcuts"); }
    void draw(Context& context) override {
        int number = 0;
        for (const Shortcut& each : table) {
            std::vector<Message> keys;
            for (const ImGuiKeyChord chord : each.keys)
                if (chord != 0) keys.push_back(key_words(chord));
            const Message what = each.command == KeyCommand::place
                                     ? Message(each.what, {{"place", place_name(each.place)}})
                                     : Message(each.what);
            label_value(context, "shortcuts." + std::to_string(number++), what, series(keys, Series::Last::with_or));
        }
    }
};

}  // namespace

std::span<const Shortcut> shortcut_table() {
    return table;
}

std::vector<Shortcut> pressed_shortcuts(bool typing, bool has_job) {
    std::vector<Shortcut> pressed;
    for (const Shortcut& each : table) {
        if (each.command == KeyCommand::moving || (typing && !each.while_typing) || (each.needs_job && !has_job))
            continue;
        for (const ImGuiKeyChord chord : each.keys)
            // A key held down takes back one change after the other; it does not leave one page after the other.
            if (chord != 0 && ImGui::IsKeyChordPressed(chord) &&
                (each.command == KeyCommand::undo || each.command == KeyCommand::redo ||
                 ImGui::IsKeyPressed(static_cast<ImGuiKey>(chord & ~ImGuiMod_Mask_), false)))
                pressed.push_back(each);
    }
    return pressed;
}

Message key_words(ImGuiKeyChord keys) {
    Message key = name_of_key(static_cast<ImGuiKey>(keys & ~ImGuiMod_Mask_));
    switch (keys & ImGuiMod_Mask_) {
        case alt:
            return Message("Alt+{key}", {{"key", key}});
        case ctrl:
            return Message("Ctrl+{key}", {{"key", key}});
        case shift:
            return Message("Shift+{key}", {{"key", key}});
        case ctrl | shift:
            return Message("Ctrl+Shift+{key}", {{"key", key}});
        default:
            return key;
    }
}

std::unique_ptr<Screen> shortcuts_page() {
    return std::make_unique<ShortcutsPage>();
}

}  // namespace tapwright::ui
