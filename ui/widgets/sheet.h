// What comes over the page: a sheet from the bottom within the thumb's reach on a phone, a dialog in the middle of a
// wide window. Everything behind it waits.
#pragma once

#include <string>
#include <string_view>

#include "ui/frame/context.h"

namespace tapwright::ui {

// Draws a sheet while `open` is true:
//
//     if (Sheet sheet(context, "rooms.new", "New room", open_); sheet) { ... widgets ... }
//
// Its title row has a key NAME.close; Escape closes it too. Both only set `open` to false: drafts belong to the screen.
class Sheet {
public:
    Sheet(Context& context, std::string_view name, const Message& title, bool& open);
    ~Sheet();
    Sheet(const Sheet&) = delete;
    Sheet& operator=(const Sheet&) = delete;
    explicit operator bool() const { return shown_; }

private:
    void draw_title(std::string_view name, const Message& title);

    Context& context_;
    bool& open_;
    bool shown_ = false;
};

// A question before something that deserves one. Marks NAME.yes and NAME.no.
enum class Answer { none, yes, no };
Answer ask(Context& context, std::string_view name, const Message& title, const Message& sentence, const Message& yes,
           const Message& no, bool& open, Tone tone = Tone::warning);

}  // namespace tapwright::ui
