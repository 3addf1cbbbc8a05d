// The frame around every screen: places, panes, the way back, what was saved last, messages, and the shortcuts.
//
// A phone: header, the strip of the zone in hand in one line where watts matter, the page, and the places within the
// thumb's reach at the bottom. On its side: a rail of places, the strip in the header's line, the foot as a column at
// the right. A tablet: a list beside its page. Wide: the places at the side, then list | page | line. Each place keeps
// its own stack of screens, so coming back finds everything as it was left; a window that changes its shape shows the
// same screens, and what is being typed goes on.
//
// What was saved takes the strip's place for a few seconds, or the title's where there is no strip: it covers nothing
// that acts, and nothing moves.
//
// Keyboard: the table of shortcuts.h. A page that comes to the front has the focus on what had it there before, a new
// one on its first thing (focus.h).
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
    // Called before a screen is asked for its title or draws: what the screens share is about that page from then on.
    std::function<void(Context&, Screen&)> turn_to;
    // The strip above a page where watts matter (Screen::shows_load), and whether there is something to show in it: in
    // one line of that many pixels, or whole above the third pane. What it opens is drawn over the page.
    std::unique_ptr<Screen> strip;
    std::function<void(Context&, float height)> strip_line;
    std::function<bool(Context&)> strip_shown;
    std::function<void(Context&)> over_page;
    // The third pane of a wide window: the line of the zone in hand.
    std::unique_ptr<Screen> beside;
    std::function<bool(Context&, PlaceId)> beside_shown;
    // A fresh page for finding things.
    std::function<std::unique_ptr<Screen>()> find;
    // Takes the last change back, and makes again what was taken back last. Returns: what that was, in words.
    std::function<Result<Message>(Session&)> undo, redo;
    std::function<bool(const Session&)> can_redo;
    std::function<void(FilePurpose, const std::string&)> file_chosen;
    std::function<void(const std::vector<std::string>&)> files_dropped;
    std::function<Message()> window_title;
    // What the open job is called, in sight on the first page of each place, and the page behind it: settings, other
    // jobs.
    std::function<Message(const Session&)> job_name;
    std::function<std::unique_ptr<Screen>()> job_page;
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
    // Shows a sentence over the page. At most one error and one note stand there, the latest of each, the error first;
    // an error goes with the page it came up on, a note by itself.
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
        int turn;      // of settle() in which it was said
        double until;  // seconds; below 0: until it is dismissed
    };
    struct Kept {
        KeptWords words;
        double until;  // seconds
    };
    struct Shown {
        std::shared_ptr<Screen> screen;
        float scroll = 0;    // of its page when it was last in front, in pixels; a new page begins at its top
        unsigned focus = 0;  // what had the keyboard's focus on it then
    };
    using Stack = std::vector<Shown>;
    struct Pane {
        std::string header;  // what its header's marks begin with
        std::string page;    // the scrolling page's name: what it remembers belongs to this
        Message back_to;     // title of the screen before, or empty
        float height = 0;    // pixels
        bool in_front = false;
        std::optional<float> scroll_to = {};  // for a page that comes to the front
        unsigned focus = 0;                   // the same
    };

    Stack& stack();
    bool has_places() const { return session_ || !parts_.opening; }
    void shortcuts(Context& context);
    void let_notices_go(Context& context);
    // ---- app_draw.cpp ----
    void turn_to(Context& context, Screen& screen);
    Message title_of(Context& context, Screen& screen);
    void draw_bar_at_bottom(Context& context);
    void draw_rail_at_side(Context& context);
    void draw_wide(Context& context);
    void draw_list_and_page(Context& context, float left, float width, float height);
    float draw_pane(Context& context, const Pane& pane, Screen& screen);  // returns how far its page is scrolled
    void draw_in_front(Context& context, float left, float width, float height);
    void draw_header(Context& context, const Pane& pane, Screen& screen);
    std::vector<HeaderAction> header_actions() const;
    void act(Context& context, std::string_view action);
    void draw_page(Context& context, const Pane& pane, Screen& screen, float height, float& scroll);
    void draw_foot(Context& context, const Pane& pane, Screen& screen, Area area);
    void draw_slot(Context& context);
    void draw_message(Context& context, float height);
    void draw_kept(Context& context, float height, int most_lines);
    void draw_whole_message(Context& context);
    void draw_side(Context& context);
    void draw_beside(Context& context, float left);
    std::string page_name(std::size_t depth) const;
    // ---- app.cpp ----
    void make(std::vector<Change>& changes);
    void keep_in_sight(const Message& what);
    void take_back(const std::function<Result<Message>(Session&)>& how);
    void leave_page();

    Host& host_;
    AppParts parts_;
    Session* session_ = nullptr;
    Words words_;  // of the frame before, for what is said beside the window
    double seconds_ = 0;
    PlaceId place_ = PlaceId::rooms;
    std::array<Stack, place_count> stacks_;
    Stack opening_;
    std::vector<Notice> messages_;
    std::optional<Kept> kept_;
    unsigned focus_ = 0;              // what has the keyboard's focus on the page in front
    bool focus_first_ = false;        // what the page was left on is gone
    std::weak_ptr<Screen> in_front_;  // in the frame before
    bool shows_load_ = false;         // the page in front, in this frame
    bool has_beside_ = false;         // the third pane
    bool list_opened_ = false;        // what the list beside the page opened in this frame takes the page's place
    Notice whole_ = {};               // the message that was opened to be read whole
    bool whole_open_ = false;
    int turn_ = 0;   // of settle()
    int press_ = 0;  // the pointer's last press
    // A refusal that stands beside its field, and the press it came with: where that leaves the page it is said after
    // all.
    Message refused_;
    int refused_at_press_ = -1;
};

}  // namespace tapwright::ui
