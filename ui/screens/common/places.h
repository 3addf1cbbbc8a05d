// Pages that the places lead to, beside those of parts.h: taking readings, the walk test, visits and the history.
#pragma once

#include <memory>
#include <string>

#include "core/derive/derived.h"
#include "ui/widgets/chart.h"
#include "ui/widgets/number_pad.h"
#include "ui/screens/common/shared.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {

// All readings at one zone, channel, point or room: over time against their band, each with what it means.
std::unique_ptr<Screen> readings_at_screen(Shared& shared, const Id& at);
// Each loudspeaker and attenuator in walking order: how it sounded, its polarity, its override.
std::unique_ptr<Screen> walk_test_screen(Shared& shared);
// Starting a visit stamps what follows.
std::unique_ptr<Screen> visits_screen(Shared& shared);
// What was changed, by whom and when, the latest first.
std::unique_ptr<Screen> history_screen(Shared& shared);

// A verdict in a word or two for people, "agrees", with its tone; sentence() says the rest.
struct VerdictWords {
    Tone tone = Tone::plain;
    std::string word;
};
VerdictWords verdict_words(const Judgement& judgement);
// "83.3 Ω", "over 20 kΩ": what the meter showed.
std::string reading_figure(const Reading& reading);
// "Impedance", "Stray voltage": what was measured.
std::string measured_title(Measured quantity);
// "83.3 Ω, right from 66.6 Ω to 100 Ω", or that nothing can be expected yet.
std::string band_words(const Judgement& judgement);

// The sheet with the number pad: a figure as it is typed, what was expected and what it would prove, and the caution
// before the first one of a visit. Belongs to a screen.
class ReadingEntry {
public:
    explicit ReadingEntry(Shared& shared) : shared_(shared) {}
    // Asks for a reading there; an empty id makes the job's first zone together with its first reading.
    void begin(Context& context, const Id& at, Measured quantity = Measured::ohms);
    // The sheets. Marks caution.*, pad.*.
    void draw(Context& context);

private:
    Reading draft(double value) const;
    void look(const Session& session);
    void draw_pad(Context& context, const Session& session);
    void draw_verdict(Context& context);
    void draw_conditions(Context& context, const Session& session);
    void draw_quantities(Context& context);
    void keep(Context& context, const Session& session);

    Shared& shared_;
    Id at_;
    Measured quantity_ = Measured::ohms;
    PadDraft pad_;
    bool caution_open_ = false, pad_open_ = false, choosing_ = false;
    bool full_ = false, isolated_ = false, over_range_ = false, baseline_ = false;
    bool cautioned_ = false;  // during `cautioned_visit_`
    std::string cautioned_visit_;
    // What the figure means, worked out once for each state of the draft.
    std::string looked_at_;
    Judgement judgement_;
    std::string sentence_;
};

}  // namespace tapwright::ui
