// What a screen gets to draw with, and the only way it asks for something.
//
// A screen never changes what is being drawn. It puts requests into the queue; they are settled after the frame, and
// the next frame shows what came of them.
#pragma once

#include <cmath>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "core/base/result.h"
#include "core/job/id.h"
#include "core/words/words.h"
#include "ui/frame/fonts.h"
#include "ui/frame/gesture.h"
#include "ui/frame/hand.h"
#include "ui/frame/host.h"
#include "ui/frame/mark.h"
#include "ui/frame/theme.h"

namespace tapwright {
class Session;
}

namespace tapwright::ui {

class Screen;

enum class PlaceId { survey, rooms, lines, readings, snags, handover };
inline constexpr int place_count = 6;

// One change to the job. `make` runs after the frame; its refusal is shown to the person as it stands.
struct Change {
    Message what;  // for the kept bar, for example "Tap of L-104 set to 5 W"
    std::function<Result<void>(Session&)> make;
    bool refused_in_place = false;  // the sentence of a refusal stands where it was asked for: no notice
};

// How the person wants the window to look and to speak. Scale comes from the display times the chosen text size.
struct Preferences {
    enum class Appearance { system, day, night } appearance = Appearance::system;
    float text_scale = 1;  // 1, 1.25, 1.5 ... 3
    const Language* language = &english();
};

// What screens asked for during a frame, in order. The app takes everything out after the frame.
class Requests {
public:
    void change(Change change) { changes.push_back(std::move(change)); }
    void undo() { undo_wanted = true; }
    void redo() { redo_wanted = true; }
    // Shows a sentence in the message area. Errors stay until they are dismissed or the page is left.
    void say(Tone tone, Message sentence) { messages.emplace_back(tone, std::move(sentence)); }
    void open(std::unique_ptr<Screen> screen);  // on top of the place in hand
    void back() { later.emplace_back(nullptr); }
    void show(PlaceId place) { place_wanted = static_cast<int>(place); }
    // Anything else that must not happen while drawing.
    void after_frame(std::function<void()> action) { later.push_back(std::move(action)); }
    void prefer(Preferences preferences) { preferred.assign(1, preferences); }
    // One more frame, for something that becomes visible only then.
    void another_frame() { frames_wanted = true; }

    bool any() const {
        return !changes.empty() || !messages.empty() || !opened.empty() || !later.empty() || !preferred.empty() ||
               place_wanted >= 0 || undo_wanted || redo_wanted || frames_wanted;
    }

    std::vector<Change> changes;
    std::vector<std::pair<Tone, Message>> messages;
    std::vector<std::shared_ptr<Screen>> opened;
    std::vector<std::function<void()>> later;  // an empty function means "back"
    std::vector<Preferences> preferred;
    int place_wanted = -1;
    bool undo_wanted = false, redo_wanted = false, frames_wanted = false;
};

// How high each row of a list was when it was last in sight, and what it said, by the id of its item: a row out of
// sight needs no text then. Whatever is settled or preferred may change a row, so that all of it is forgotten.
class RowsSeen {
public:
    struct Seen {
        float width = 0, height = 0;  // pixels
        bool enabled = true, is_on = false;
        std::string text;  // of its mark
    };
    // Nothing where it was not yet seen at that width.
    const Seen* find(unsigned id, float width) const {
        const auto found = seen_.find(id);
        return found != seen_.end() && found->second.width == width ? &found->second : nullptr;
    }
    void keep(unsigned id, Seen seen) { seen_.insert_or_assign(id, std::move(seen)); }
    void forget() { seen_.clear(); }

private:
    std::unordered_map<unsigned, Seen> seen_;
};

struct Context {
    const Theme& theme;
    float scale;  // pixels for each unit
    Fonts& fonts;
    Gesture& gesture;
    Marks& marks;
    const Hand& hand;
    RowsSeen& rows;
    Host& host;
    Requests& requests;
    const Preferences& preferences;
    std::vector<NativeArea>& native_areas;
    Words words;                 // the person's language, and lengths as the job writes them
    Session* session = nullptr;  // none before a job is open
    bool wide = false;           // side list and three panes
    bool has_beside = false;     // the third pane shows the line of the zone in hand
    bool paired = false;         // a list and its page stand side by side
    bool low = false;            // a phone on its side: a rail of places, one line where there would be several
    double seconds = 0;          // of this frame, by the platform's steady clock
    int frame = 0;
    bool reshaped = false;  // the window has just got another size
    bool in_foot = false;   // buttons stand side by side at the bottom: one height for all
    // The job can only be read: whatever would change it is shown, but cannot be touched.
    bool read_only = false;
    bool foot_upright = false;  // the foot is a column at the side: they stand below one another, as wide as it is

    // Whole pixels for so many units.
    float px(float units) const { return std::trunc(units * scale + 0.5F); }
};

// What is drawn while it lives changes nothing in the job, though it looks like what does: a choice of what is shown, a
// setting of the window. It works in a job that can only be read.
class OnlyLooks {
public:
    explicit OnlyLooks(Context& context) : context_(context), before_(context.read_only) { context.read_only = false; }
    ~OnlyLooks() { context_.read_only = before_; }
    OnlyLooks(const OnlyLooks&) = delete;
    OnlyLooks& operator=(const OnlyLooks&) = delete;

private:
    Context& context_;
    bool before_;
};

// The zone that a page is about. Without one it is about none; with `is_settled` it is about that one whatever the
// person chose: the page of a zone, of a point, of a reading.
struct PageZone {
    Id zone;
    bool is_settled = false;
};

// One page of the program, with its own small state. Screens are kept by the app's stacks; what a person has typed
// lives as long as they do.
class Screen {
public:
    virtual ~Screen() = default;
    virtual Message title(Context& context) = 0;
    virtual void draw(Context& context) = 0;
    // What is used most on this page, below it and never scrolled away, within the thumb's reach. Drawn before the
    // page, so that a sheet it opens appears in the same frame.
    virtual bool has_foot(Context&) { return false; }
    virtual void draw_foot(Context&) {}
    // Watts matter here: the strip of the zone in hand stands above the page.
    virtual bool shows_load(Context&) { return false; }
    virtual PageZone page_zone(Context&) { return {}; }
    // It draws that zone's line itself: the third pane has no need to.
    virtual bool draws_line(Context&) { return false; }
    // Asked when the page is left by the way back or for another place. Returns: what was typed and is not saved, in a
    // sentence; nothing where all is.
    virtual Message on_the_way_out() { return {}; }
};

inline void Requests::open(std::unique_ptr<Screen> screen) {
    opened.push_back(std::move(screen));
}

}  // namespace tapwright::ui
