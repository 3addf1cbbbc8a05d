// What comes over the page: a sheet from the bottom within the thumb's reach on a phone, a dialog in the middle of a
// wide window. Everything behind it waits.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

// Draws a sheet while `open` is true:
//
//     if (Sheet sheet(context, "rooms.new", "New room", open_); sheet) { ... widgets ... }
//
// Its title row has a key NAME.close; Escape closes it too. Both only set `open` to false: drafts belong to the screen.
//
// A whole sheet has one size whatever is in it, so that nothing in it ever moves: a page where what is on it says where
// its title goes, with head().
enum class SheetSize { fitted, whole };
class Sheet {
public:
    Sheet(Context& context, std::string_view name, const Message& title, bool& open,
          SheetSize size = SheetSize::fitted);
    ~Sheet();
    Sheet(const Sheet&) = delete;
    Sheet& operator=(const Sheet&) = delete;
    explicit operator bool() const { return shown_; }
    // The title row with the key that closes, as wide as what is left. A fitted sheet has drawn it already.
    void head();

private:
    void place(const Context& context, SheetSize size) const;

    Context& context_;
    const std::string name_;
    const Message title_;
    bool& open_;
    bool shown_ = false;
    std::optional<InPart> part_;
};

// A question before something that deserves one. Marks NAME.yes and NAME.no.
enum class Answer { none, yes, no };
Answer ask(Context& context, std::string_view name, const Message& title, const Message& sentence, const Message& yes,
           const Message& no, bool& open, Tone tone = Tone::warning);

}  // namespace tapwright::ui
