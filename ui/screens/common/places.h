// Pages that the places lead to, beside those of parts.h: taking readings, the walk test, visits and the history.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/derive/derived.h"
#include "core/words/statement.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/shared.h"
#include "ui/widgets/chart.h"
#include "ui/widgets/number_pad.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// All readings at one zone, channel, point or room: over time against their band, each with what it means.
std::unique_ptr<Screen> readings_at_screen(Shared& shared, const Id& at);
// The tap of a loudspeaker from two readings of its zone, one with it and one without.
std::unique_ptr<Screen> find_tap_screen(Shared& shared, const Id& speaker);
// Where the fault of that zone's line is: what explains all that was read and heard, and what to measure next.
std::unique_ptr<Screen> find_fault_screen(Shared& shared, const Id& zone);
// Each loudspeaker and attenuator in walking order: how it sounded, its polarity, its override. Begins in `room`, or in
// the first.
std::unique_ptr<Screen> walk_test_screen(Shared& shared, std::optional<Id> room = {});
// Starting a visit stamps what follows.
std::unique_ptr<Screen> visits_screen(Shared& shared);
// What was changed, by whom and when, the latest first.
std::unique_ptr<Screen> history_screen(Shared& shared);

// A verdict in a word or two, "Matches record", with its tone; its statement says the rest.
struct VerdictWords {
    Tone tone = Tone::plain;
    Message word;
};
VerdictWords verdict_words(const Judgement& judgement);
// The same in two lines for the pad, of any quantity: "More load", "−25 % from 118 Ω". `statement`: what it says.
struct VerdictLines {
    Tone tone = Tone::plain;
    Message word, detail;
};
VerdictLines verdict_lines(const Reading& reading, const Judgement& judgement, const Statement& statement);
// "83.3 Ω", "over 20 kΩ": what the meter showed.
Message reading_figure(const Reading& reading);
// "Impedance", "Stray voltage": what was measured.
Message measured_title(Measured quantity);
// The same in few letters, for a key: "Ω", "Stray V".
Message measured_short(Measured quantity);
// Whether people read and type it in MΩ: insulation.
bool is_in_megohms(Measured quantity);
// "83.3 Ω (accept 66.6 Ω to 100 Ω); 50 Ω once all is connected", or that nothing can be expected yet: behind
// "Expected", for a reading that is not in the job yet. `missing`: missing_for() it; `of_all`: missing_of_all_for() it.
Message band_words(const Judgement& judgement, const NotRecorded& missing, const NotRecorded& of_all);
// As a label by itself, of any reading: "Expected 83.3 Ω (accept 66.6 Ω to 100 Ω)". `missing`: nothing where the record
// has changed since.
Message expected_words(const Judgement& judgement, const NotRecorded& missing);

// The record with that loudspeaker off its line; nothing where it cannot be.
std::optional<Proposal> record_without(const Session& session, const Shared& shared, const Id& speaker);

// The sheet with the number pad: a figure as it is typed, what was expected and what it would prove, and the cautions
// before the first one on each line of a visit. Belongs to a screen.
class ReadingEntry {
public:
    // `leads_to_search`: a figure that does not fit may be saved and the fault sought in one touch.
    explicit ReadingEntry(Shared& shared, bool leads_to_search = true)
        : shared_(shared), leads_to_search_(leads_to_search) {}
    // Asks for a reading there; an empty id makes the job's first zone together with its first reading.
    void begin(Context& context, const Id& at, Measured quantity = Measured::ohms);
    // A reading of ohms there with those attenuators turned, the others as they are; noted with the reading.
    void begin_turned(Context& context, const Id& at, KnobMap turned);
    // A reading of ohms there without that loudspeaker, held against the record without it, after the steps that take
    // it off. The line is not as recorded then, so the figure goes to `taken` and not into the job; recorded is that
    // the zone is disconnected. `all_full`: as the attenuators stood for the reading with it.
    using Taken = std::function<void(const Reading&)>;
    void begin_without(Context& context, const Id& at, const Id& speaker, bool all_full, Taken taken);
    // A line in one go: its steps ticked off, stray volts, ohms, then the steps of an insulation test and insulation to
    // earth, each opening with the one before saved. What the first steps confirmed holds for the reading of ohms among
    // them. Volts on the line end it.
    void begin_test(Context& context, const Id& line);
    // The sheets. Marks emergency.*, caution.*, entry.*, pad.*.
    void draw(Context& context);

private:
    // What the verdict is worked out from.
    struct Asked {
        std::string typed;
        Id at;
        Measured quantity = Measured::ohms;
        bool full = false, isolated = false, over_range = false, baseline = false;
        friend bool operator==(const Asked&, const Asked&) = default;
    };

    // A second reading, without one loudspeaker.
    struct WithoutOne {
        Id speaker;
        Taken taken;
    };

    // What the steps before a line's test confirmed, until its reading of ohms.
    struct Test {
        bool disconnected = false, full = false;
    };

    void start(Context& context, const Id& at, Measured quantity);
    void clear(Measured quantity);
    void go_on(const Session& session);
    void to_step(Measured quantity);
    void saved(const Reading& reading, const Message& said);
    void choose(Context& context, Measured quantity);
    std::optional<CautionMoment> moment() const;
    Message title(const Session& session) const;
    void judge_draft(const Session& session, const Reading& reading, bool has_figure);
    void take_without(Context& context, const Session& session, const Reading& reading);
    bool measures_line() const;
    bool measures_dead_line() const;
    void draw_question(Context& context, const Session& session);
    void draw_cautions(Context& context, const Session& session);
    void cautions_done(const Session& session, CautionMoment before);
    Result<double> typed() const;
    Reading draft(double value) const;
    void look(const Session& session);
    // ---- the page with the pad ----
    void draw_pad(Context& context, const Session& session, Sheet& sheet);
    void draw_figures(Context& context, const Session& session, float height);
    void draw_verdict(Context& context);
    PadEvent draw_keys(Context& context, float height);
    PadOptions pad_options() const;
    void draw_conditions(Context& context, const Session& session);
    void draw_quantities(Context& context, const Session& session);
    bool has_attenuators(const Session& session) const;
    KnobMap positions(const Session& session) const;
    void draw_search(Context& context, const Session& session);
    void keep(Context& context, const Session& session);

    Shared& shared_;
    const bool leads_to_search_;
    bool searches_ = false;  // once it is saved
    Id search_on_;           // the line to open the search on; empty: none
    KnobMap turned_;         // for this reading
    Id at_;
    Measured quantity_ = Measured::ohms;
    PadDraft pad_;
    bool question_open_ = false, caution_open_ = false, pad_open_ = false, why_open_ = false;
    bool full_ = false, isolated_ = false, over_range_ = false, baseline_ = false;
    std::optional<WithoutOne> without_;
    std::optional<Test> test_;
    Checklist checklist_;
    std::optional<tapwright::Answer> answer_;  // about the zone that is made with its first reading
    // What the figure means, worked out once for each state of the draft. No statement while nothing is typed.
    Seen<Asked> asked_;
    Judgement judgement_;
    NotRecorded missing_, missing_of_all_;  // what makes the expected impedance a bound
    std::optional<Statement> statement_;
    VerdictLines lines_;
};

}  // namespace tapwright::ui
