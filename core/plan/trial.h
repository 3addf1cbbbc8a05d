// Trial: proposed changes worked out beside the real system, and what would become of it, side by side.
//
// A trial is a list of changes over the job, kept as a record (trials[]) and never mixed into the as-built. Working it
// out is Session::propose(trial_command(...)): refused for the same reasons as the real change would be, and writes
// nothing. Here is what comes before and after that.
#pragma once

#include <functional>
#include <vector>

#include "core/derive/derived.h"

namespace tapwright {

// The changes as a command takes them: what hangs on a point that goes is fed from what fed it, also where several go,
// and the lengths of runs of the same cable are added up. A change that sets such a point's feed itself stands.
ChangeList trial_changes(const Job& job, const ChangeList& wished);

// Whether the taps a trial changes on loudspeakers that hang there have been set by then.
// as_left: they have; the plan, where there is one, is changed with them, so that both agree.
// as_planned: not yet; they become the plan, and the record of what is set stays: every loudspeaker that somebody still
// has to climb to is then a finding.
enum class MadeReal : std::uint8_t { as_left, as_planned };

// Changes as they are made real: as a command takes them, taps and plan settled as said.
ChangeList made_real(const Job& job, const ChangeList& wished, MadeReal how = MadeReal::as_left);

// The same changes with another id for each record they add whose id was used before and is free no longer, as after an
// undo of a trial made real: "p1" becomes "p1-2", wherever the changes refer to it. The same call makes the same ids.
ChangeList with_free_ids(const Job& job, ChangeList changes, const std::function<bool(const Id&)>& was_used);

// A record that keeps changes as a trial of that name.
Change trial_record(const std::string& name, const ChangeList& changes);

// The same for a kept trial, and its record goes with them: making it real is one batch, and one undo brings both back.
// Errors: no such trial.
Result<ChangeList> make_real(const Job& job, const Id& trial, MadeReal how = MadeReal::as_left);
// How many taps of loudspeakers that hang there a trial changes: what the question of MadeReal is about.
std::size_t taps_to_set(const Job& job, const ChangeList& changes);

// What a meter will show at a zone or an output: what the record expects there together with the watts that a reading
// shows beyond it, V^2 / (V^2 / expected + unrecorded). Infinite where nothing draws.
struct ToBeRead {
    Ohms connected{0};  // what is on the line by then
    Ohms all{0};        // once all that is planned is connected
};
ToBeRead to_be_read(const ZoneState& zone);
// At every output: all its zones in parallel.
std::vector<ToBeRead> to_be_read_at_channels(const Figures& figures);

// One place before and after; absent where it is not there.
struct LoadPair {
    Kind kind = Kind::zone;  // zone, channel or amplifier
    Id id;
    std::optional<Margin> before, after;
    std::optional<Watts> can_add_before, can_add_after;  // of a zone
    std::optional<Ohms> ohms_before, ohms_after;         // expected; of a zone or channel
    // To be read there: see to_be_read(). Of a zone or channel, now, with the changes, and with all that is planned.
    std::optional<Ohms> read_before, read_after, read_all_after;
};
struct AttenuatorPair {
    Id id;
    std::optional<Watts> behind_before, behind_after;
    std::optional<Watts> rating_before, rating_after;
};
struct SpeakerPair {
    Id id;
    std::optional<Watts> drawn_before, drawn_after;
    // Of its level: 10 lg of the watts it gets, after to before; 0 where it is silent in both. Absent: silent in one.
    std::optional<Decibels> change;
    std::optional<Ohms> ohms_before, ohms_after;
};
enum class Fate : std::uint8_t { appears, vanishes };
struct FindingPair {
    Fate fate = Fate::appears;
    Finding finding;  // of `after` where it appears, of `before` where it vanishes
};

struct Comparison {
    std::vector<LoadPair> loads;  // zones, channels, amplifiers; those that go stand last of their kind
    std::vector<AttenuatorPair> attenuators;
    std::vector<SpeakerPair> speakers;
    std::vector<FindingPair> findings;  // those that appear, then those that vanish
};

// Requires: each Derived belongs to its job. Linear in the records.
Comparison compare(const Job& before, const Derived& derived_before, const Job& after, const Derived& derived_after);

}  // namespace tapwright
