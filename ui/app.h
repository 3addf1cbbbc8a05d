// The frame around every screen: places, panes, the way back, what was kept last, messages, and the shortcuts.
//
// Portrait: header, the strip of the zone in hand, the page, and the places within the thumb's reach at the bottom.
// Wide: the places at the side, then list | detail | line side by side. Each place keeps its own stack of screens, so
// coming back finds everything as it was left.
//
// Keyboard: Alt+1 to Alt+6 the places, Escape or Alt+Left back, Ctrl+F find, Ctrl+Z undo; Tab and arrows move the
// focus, Enter and Space act.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "ui/toolkit.h"

namespace tapwright::ui {

// What the frame is filled with. Everything but `root` may be left empty.
struct AppParts {
    // The first screen of a place. Called once for each place, when it is first shown.
    std::function<std::unique_ptr<Screen>(PlaceId)> root;
    // Shown instead of the places as long as there is no session: opening and making jobs.
    std::function<std::unique_ptr<Screen>()> opening;
    // The strip that is always in sight, and whether there is something to show in it.
    std::unique_ptr<Screen> strip;
    std::function<bool(Context&)> strip_shown;
    // The third pane of a wide window: the line of the zone in hand.
    std::unique_ptr<Screen> beside;
    std::function<bool(Context&, PlaceId)> beside_shown;
    // A fresh page for finding things.
    std::function<std::unique_ptr<Screen>()> find;
    // Takes the last change back. Returns: what was taken back, in words.
    std::function<Result<std::string>(Session&)> undo;
    std::function<void(FilePurpose, const std::string&)> file_chosen;
    std::function<void(const std::vector<std::string>&)> files_dropped;
    std::function<std::string()> window_title;
    // Called after each frame, when everything it asked for is settled. Returns: whether work goes on that needs
    // another frame soon, without any input.
    std::function<bool()> after_frame;
};

class App : public Program {
public:
    App(Host& host, AppParts parts);

    // The job in hand, or none. Changing it empties all stacks. The session outlives its being set.
    void set_session(Session* session);
    Session* session() { return session_; }

    // Before the first frame, or between two.
    void show(PlaceId place) { place_ = place; }
    PlaceId place() const { return place_; }
    std::size_t depth() const;  // screens on the stack of the place in hand
    void say(Tone tone, std::string sentence);

    void draw(Context& context) override;
    void settle(Requests& requests) override;
    void file_chosen(FilePurpose purpose, const std::string& path) override;
    void files_dropped(const std::vector<std::string>& paths) override;
    std::string window_title() override;

private:
    struct Message {
        Tone tone;
        std::string sentence;
    };
    struct Kept {
        std::string time, what;
        bool can_undo = true;
    };
    using Stack = std::vector<std::shared_ptr<Screen>>;

    Stack& stack();
    void shortcuts(Context& context);
    void draw_portrait(Context& context);
    void draw_wide(Context& context);
    struct Pane {
        std::string header;   // what its header's marks begin with
        std::string page;     // the scrolling page's name: what it remembers belongs to this
        std::string back_to;  // title of the screen before, or empty
        bool with_actions = false;
        float height = 0;  // pixels
        bool with_foot = true;
    };
    void draw_pane(Context& context, const Pane& pane, Screen& screen);
    void draw_foot(Context& context, const Pane& pane, Screen& screen, float y);
    void draw_strip(Context& context);
    void draw_notices(Context& context);
    float notices_height(Context& context, float width);
    void draw_side(Context& context);
    void make(std::vector<Change>& changes);
    void undo();

    Host& host_;
    AppParts parts_;
    Session* session_ = nullptr;
    PlaceId place_ = PlaceId::rooms;
    std::array<Stack, place_count> stacks_;
    Stack opening_;
    std::vector<Message> messages_;
    std::vector<Kept> kept_;  // none or one
};

}  // namespace tapwright::ui
