// Cautions on screen, once for each line of a visit; the question whether a line belongs to a fire or emergency system;
// and what is still to be done on a line that was disconnected to measure it.
#pragma once

#include <optional>
#include <span>
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

// Where the zone is recorded as disconnected: reconnect, positions back as they were left, play; and that it is done.
// Marks NAME.ZONE, NAME.ZONE.done.
void reconnect_box(Context& context, Shared& shared, std::string_view name, const Id& zone);

}  // namespace tapwright::ui
