// The frame around every screen: places, panes, the way back, what was kept last, messages, and the shortcuts.
//
// Portrait: header, the strip of the zone in hand, the page, and the places within the thumb's reach at the bottom.
// Wide: the places at the side, then list | detail | line side by side. Each place keeps its own stack of screens, so
// coming back finds everything as it was left.
//
// Keyboard: Alt+1 to Alt+6 the places, Escape or Alt+Left back, Ctrl+F find, Ctrl+Z undo; Tab and arrows move the
// focus, Enter and Space act. Ctrl+Y and Ctrl+Shift+Z make again what was taken back.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "ui/frame/toolkit.h"
#include "ui/widgets/bars.h"

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
    // Takes the last change back, and makes again what was taken back last. Returns: what that was, in words.
    std::function<Result<Message>(Session&)> undo, redo;
    std::function<void(FilePurpose, const std::string&)> file_chosen;
    std::function<void(const std::vector<std::string>&)> files_dropped;
    std::function<Message()> window_title;
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
    // Shows a sentence over the page. At most one error and one note stand there, the latest of each; an error goes
    // with the page it came up on.
    void say(Tone tone, Message sentence);

    void draw(Context& context) override;
    void settle(Requests& requests) override;
    void file_chosen(FilePurpose purpose, const std::string& path) override;
    void files_dropped(const std::vector<std::string>& paths) override;
    std::string window_title() override;

private:
    struct Notice {
        Tone tone;
        Message sentence;
        int turn;  // of settle() in which it was said
    };
    struct Kept {
        std::string time;
        Message what;
        KeptAction action = KeptAction::undo;
    };
    struct Shown {
        std::shared_ptr<Screen> screen;
        float scroll = 0;  // of its page when it was last in front, in pixels; a new page begins at its top
    };
    using Stack = std::vector<Shown>;

    Stack& stack();
    void shortcuts(Context& context);
    void draw_portrait(Context& context);
    void draw_wide(Context& context);
    struct Pane {
        std::string header;  // what its header's marks begin with
        std::string page;    // the scrolling page's name: what it remembers belongs to this
        Message back_to;     // title of the screen before, or empty
        bool with_actions = false;
        float height = 0;  // pixels
        bool with_foot = true;
        std::optional<float> scroll_to = {};  // for a page that comes to the front
    };
    float draw_pane(Context& context, const Pane& pane, Screen& screen);  // returns how far its page is scrolled
    void draw_in_front(Context& context, Pane pane, Shown& shown);
    void draw_foot(Context& context, const Pane& pane, Screen& screen, float y);
    void draw_strip(Context& context);
    void draw_notices(Context& context);
    float notices_height(Context& context, float width);
    void draw_side(Context& context);
    std::string page_name() const;
    void make(std::vector<Change>& changes);
    void take_back(const std::function<Result<Message>(Session&)>& how, KeptAction next);
    void leave_page();

    Host& host_;
    AppParts parts_;
    Session* session_ = nullptr;
    Words words_;  // of the frame before, for what is said beside the window
    PlaceId place_ = PlaceId::rooms;
    std::array<Stack, place_count> stacks_;
    Stack opening_;
    std::vector<Notice> messages_;
    std::vector<Kept> kept_;          // none or one
    std::weak_ptr<Screen> in_front_;  // in the frame before
    int turn_ = 0;                    // of settle()
    int press_ = 0;                   // the pointer's last press
    // A refusal that stands beside its field, and the press it came with: where that leaves the page it is said after
    // all.
    Message refused_;
    int refused_at_press_ = -1;
};

}  // namespace tapwright::ui
