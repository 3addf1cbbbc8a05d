// What all screens of one window share: the ports to the machine, what is in hand, and what was used last. Handed to
// every screen by reference, and outliving them all.
//
// Screens change a job only by ask(): the request runs after the frame, so that nothing changes under a screen while it
// draws.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "core/base/result.h"
#include "core/job/job.h"
#include "core/plan/survey.h"
#include "core/session/session.h"
#include "core/words/cautions.h"
#include "ui/screens/common/ports.h"
#include "ui/widgets/fields.h"

namespace tapwright::ui {

struct Suspect;

struct Shared {
    // `machine` outlives it.
    explicit Shared(Ports& machine) : ports(machine) {}
    Shared(const Shared&) = delete;
    Shared& operator=(const Shared&) = delete;

    Ports& ports;
    Author author() const { return ports.author(); }
    Stamp stamp() const { return ports.stamp(); }
    void say(Tone tone, const Message& sentence) const { ports.say(tone, sentence); }
    PhotoShelf::Source photo_pixels = [this](const std::string& sha256, int longest) {
        return ports.photo_pixels(sha256, longest);
    };
    PhotoShelf shelf;
    // What a chosen file is for beyond opening and importing; set by the screen that asked.
    std::function<void(FilePurpose, const std::string& file)> on_file;
    // Set in each frame by the screen that asked; once it is no longer in front, on_file goes, so that no file reaches
    // a page that has been left.
    bool takes_files = false;

    // ---- in hand ----
    // The zone in hand follows one rule, zone_in_hand(): a page about one zone has that one; else it is what the person
    // chose, else the zone of what is on the screen; what was used last only fills gaps.
    Id zone;       // what the person chose; empty: nothing
    Id last_zone;  // what was used last: looked at, added to, measured, made
    bool page_draws_line = false;
    PageZone page;  // of the page being drawn: set by the frame before each
    Id room;        // where work goes on; empty: none
    Id point;       // the point last looked at; empty: none
    // What a trial in front would lead to, for the strip: set anew in each frame that shows the trial.
    std::shared_ptr<const Proposal> tried;
    // Where the fault sought in front may be, for the line beside it: set anew in each frame that seeks one.
    std::shared_ptr<const std::vector<Suspect>> suspects;

    // ---- surveys as they were chosen, by room: they are there again when their page opens, and in Handover ----
    struct SurveyChoice {
        Id type, zone;  // empty: not chosen
        SurveyRequest request;
    };
    std::map<Id, SurveyChoice> surveys;
    int surveys_chosen = 0;  // how often one changed

    // ---- typed into forms and not added yet, by the name of the field: it waits there until it is added ----
    std::map<std::string, Draft, std::less<>> drafts;
    // Whether anything is typed into a form, and what: of all whose name begins so, the first.
    const Draft* typed_draft(std::string_view prefix) const;
    void drop_drafts(std::string_view prefix);

    // ---- cautions worked through: of a visit, a line and a moment; the next line is not the last one ----
    using Cautioned = std::tuple<std::string, std::string, CautionMoment>;
    std::set<Cautioned> cautioned;

    // ---- used last, so that the next one of the same needs fewer touches ----
    Id speaker_type, attenuator_type, cable;
    std::optional<Watts> tap;
    Id feed;  // the point that was added last, or the zone

    // Queues a request to the session. `what` is for the kept bar: "Tap of L-104 set to 5 W". `then` runs with the ids
    // of the changes once they are on disk.
    void ask(Context& context, ChangeList changes, Message what, std::function<void(const std::vector<Id>&)> then = {});

    // The zone in hand by the rule above; where nothing says one, the first; nothing where there is none.
    const Zone* zone_in_hand(const Job& job) const;
};

// The zone of a record, for a page about it: of a zone itself, a point, a reading, a snag about one of those, settled;
// of a room the zone of its point that was traced last, of an output its first, which the person may choose against.
PageZone zone_of_record(const Session& session, const Id& id);

// What is said on the way out of a form in which something was typed.
Message draft_words(const Draft& draft);

// A change for ask(): a new record (the session makes its id), fields set, a record removed.
tapwright::Change adding(Kind kind, Map fields);
tapwright::Change setting(Kind kind, const Id& id, Map fields);

}  // namespace tapwright::ui
