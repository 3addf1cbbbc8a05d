// Adding points to a room with few touches: the sheets that ask for a tap or a number, and what is taken over from the
// loudspeaker before (type, cable, feed, the next label) so that nothing has to be said twice.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "ui/screens/common/shared.h"
#include "ui/screens/common/taps.h"

namespace tapwright::ui {

// Belongs to a room's screen.
class NewPoints {
public:
    NewPoints(Shared& shared, Id room) : shared_(shared), room_(std::move(room)), tap_(shared) {}

    // Ask for the tap of the next loudspeaker; ask how many more of the last one.
    void begin() { adding_ = true; }
    void begin_same() { same_open_ = true; }
    // Adds one, fed like the next loudspeaker would be.
    void add_attenuator(Context& context);
    void add_joint(Context& context);
    // The sheets. Marks room.new.*, room.many.*, room.over.*.
    void draw(Context& context);

    // Runs `act` at once where `warning` says nothing, else after the person has read it and wants it recorded all the
    // same.
    void confirm(Context& context, const Message& warning, std::function<void(Context&)> act);

    // What the key that adds says: "Add to Inside, after L-6". With `room` (pixels) the zone's name is cut to that.
    enum class Adds { loudspeaker, attenuator, joint };
    Message adding_words(Context& context, Adds what, float room = 0) const;

    // The loudspeaker of this room that was recorded last, or nothing.
    const Point* last_speaker(const Job& job) const;

private:
    const Point* last_point(const Job& job) const;
    struct Place {
        Id zone, feed;  // empty: not traced
    };
    Place place_of_next(const Session& session) const;
    Id feed_on(const Session& session, const Id& zone) const;
    std::string short_name(Context& context, const Id& zone, float room) const;
    Message same_words(Context& context) const;
    Id type_of_next(const Job& job) const;
    std::string label_of_next(const Job& job) const;
    Map fields_of_next(const Session& session) const;
    void draw_new(Context& context, const Job& job);
    void draw_same(Context& context);
    void add_speaker(Context& context, std::optional<Watts> tap);
    void add_same(Context& context, const Point& last);
    void add(Context& context, ChangeList changes, const Message& what);
    void add_other(Context& context, Map fields, const Message& what);
    void pick_type(Context& context);
    void pick_feed(Context& context);

    Shared& shared_;
    Id room_;
    TapChoice tap_;
    std::optional<Id> picked_type_;  // by hand, for the next ones here; an empty id: none
    std::optional<Place> picked_;    // by hand, as long as its zone is in hand
    bool adding_ = false, same_open_ = false, warn_open_ = false;
    int how_many_ = 1;
    Message warning_;
    std::function<void(Context&)> pending_;
};

}  // namespace tapwright::ui
