// Cautions on screen, once for each line of a visit; the question whether a line belongs to a fire or emergency system;
// and what is still to be done on a line that was disconnected to measure it.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <span>
#include <string>
#include <string_view>

#include "core/words/cautions.h"
#include "ui/screens/common/shared.h"

namespace tapwright::ui {

// The zone a place is on; the place itself where that is not known.
Id line_of(const Session& session, const Id& at);
// The zones whose conductors a meter at this place is on: of an output all of them; none where it is not traced.
std::vector<Id> zones_at(const Session& session, const Id& at);

// Whether the cautions of that moment were worked through on this line, on the visit in hand; and that they were.
bool is_cautioned(const Shared& shared, const Session& session, CautionMoment moment, const Id& at);
void note_cautioned(Shared& shared, const Session& session, CautionMoment moment, const Id& at);

// The cautions in a box, their sources behind "Why", until somebody has understood them on this line. The line is that
// of the first place. Marks NAME, NAME.done.
void caution_box(Context& context, Shared& shared, std::string_view name, CautionMoment moment,
                 std::span<const Id> places);
void caution_box(Context& context, Shared& shared, std::string_view name, CautionMoment moment, const Id& place);

// Asks whether a zone, output or point could be part of a fire or emergency system, and records the answer. Marks
// NAME.question, NAME.no, NAME.yes while nobody has answered, NAME.stop where it is.
// Returns: whether the answer is no, so that work may go on.
bool settle_emergency(Context& context, Shared& shared, std::string_view name, const Id& at);
// The two keys of that question alone. Returns: what was touched.
std::optional<tapwright::Answer> emergency_keys(Context& context, std::string_view name);
// That answer as changes: of the zones a place is on, else of the point itself.
ChangeList emergency_answer(const Session& session, const Id& at, tapwright::Answer answer);

// Cautions worked through: what is only to be known is read, each step is ticked off, in the order of the work, and the
// key that confirms them comes alive with the last one. Ticks hold for one line and as long as the list is in sight:
// another line, or a frame without it, starts anew.
class Checklist {
public:
    // How the positions step was answered: every attenuator full, or as noted.
    enum class Positions : std::uint8_t { not_asked, full, as_noted };
    struct Look {
        bool asks_positions = false;  // there are attenuators, so that full and as noted are told apart
        bool is_numbered = false;     // in the order of the work
        Message confirm;              // the key
    };

    // Marks NAME.0, NAME.1 ... a caution, of the positions NAME.2.full and NAME.2.noted, and NAME.done, NAME.sources.
    // `line`: what the ticks hold for. Returns: whether the key was touched, which it can be once all is ticked.
    bool draw(Context& context, std::string_view name, const Id& line, std::span<const Caution> cautions,
              const Look& look);

    // As ticked; asked after draw() has returned true.
    bool is_disconnected() const { return is_disconnected_; }
    Positions positions() const { return positions_; }

private:
    void begin(const Id& line);
    void draw_positions(Context& context, const std::string& name, std::size_t number);
    std::size_t missing(std::span<const Caution> cautions, const Look& look) const;

    Id line_;
    int frame_ = -2;                     // in which it was drawn last
    std::set<std::string_view> ticked_;  // by code
    bool is_disconnected_ = false;
    Positions positions_ = Positions::not_asked;
};

// Where zones are recorded as disconnected: reconnect, positions back as they were left, play; and that it is done. One
// checklist a zone. Belongs to a screen.
class ReconnectBoxes {
public:
    explicit ReconnectBoxes(Shared& shared) : shared_(shared) {}
    // Nothing where the zone is connected. Marks NAME.ZONE.0 ..., NAME.ZONE.done.
    void draw(Context& context, std::string_view name, const Id& zone);

private:
    Shared& shared_;
    std::map<std::string, Checklist> lists_;  // by zone
};

}  // namespace tapwright::ui
