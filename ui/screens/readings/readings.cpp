// Readings: each zone with what its newest reading says, and taking the next one.
#include <algorithm>
#include <optional>

#include "core/calc/emergency.h"
#include "core/job/field_text.h"
#include "core/readings/newest.h"
#include "core/readings/readings.h"
#include "core/readings/zone_balance.h"
#include "core/units/unit.h"
#include "core/words/balance_text.h"
#include "core/words/expected_text.h"
#include "core/words/readings_text.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/places.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

// The reading at `at` that was taken last, of ohms when `only_ohms`.
std::optional<std::uint32_t> newest_at(const Job& job, const Id& at, bool only_ohms) {
    return newest_reading(job, at, [&job, only_ohms](std::uint32_t reading) {
        return !only_ohms || job.all<Reading>()[reading].quantity == Measured::ohms;
    });
}

// The two keys of a line: all of its test in one go, and one reading. They name the line: what they do, they do there.
struct TestKeys {
    std::string_view test, one;  // their marks
};
void draw_test_keys(Context& context, const TestKeys& keys, const Id& line, ReadingEntry& entry) {
    const Argument name = entered(name_of(context.session->job(), line));
    const float width = share_of_foot(context, 2);
    const int most_lines = context.foot_upright ? 0 : 2;  // a column has room for every name
    if (button(context, keys.test, Message("Test {zone}", {{"zone", name}}),
               {.kind = ButtonKind::primary, .width = width, .shape = Shape::readings, .most_lines = most_lines}))
        entry.begin_test(context, line);
    beside(context);
    if (button(context, keys.one, Message("One reading at {zone}", {{"zone", name}}),
               {.width = width, .shape = Shape::plus, .most_lines = most_lines}))
        entry.begin(context, line);
}

class ReadingsScreen : public TitledScreen {
public:
    explicit ReadingsScreen(Shared& shared)
        : TitledScreen(shared, Message("Readings")), entry_(shared), search_(shared), reconnect_(shared) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        if (job.all<Zone>().empty())
            empty_state(context, Shape::readings, Message("No zones yet"),
                        Message("Take a reading now: the first zone is created with it."));
        for (const Zone& zone : job.all<Zone>()) reconnect_.draw(context, "readings.reconnect", zone.id);
        const Zone* hand = shared_.zone_in_hand(job);
        for (std::size_t i = 0; i < job.all<Zone>().size(); ++i) draw_zone(context, i, hand);
        draw_others(context, job);
        if (button(context, "readings.walk", Message("Walk test"), {.shape = Shape::loudspeaker}))
            context.requests.open(walk_test_screen(shared_));
        if (button(context, "readings.visits", Message("Visits"), {.shape = Shape::survey}))
            context.requests.open(visits_screen(shared_));
        entry_.draw(context);
    }
    bool has_foot(Context&) override { return true; }
    bool shows_load(Context&) override { return true; }
    void draw_foot(Context& context) override {
        const Zone* hand = shared_.zone_in_hand(context.session->job());
        if (!hand) {
            if (button(context, "readings.add", Message("Take a reading"),
                       {.kind = ButtonKind::primary, .shape = Shape::plus}))
                entry_.begin(context, Id());
            return;
        }
        draw_test_keys(context, {"readings.test", "readings.add"}, hand->id, entry_);
    }

private:
    void draw_zone(Context& context, std::size_t place, const Zone* hand) {
        const Zone& zone = context.session->job().all<Zone>()[place];
        const auto row = [&] { return row_of(*context.session, place, hand); };
        if (list_row(context, "readings.zone." + zone.id.text(), row).tapped) {
            shared_.last_zone = zone.id;
            context.requests.open(readings_at_screen(shared_, zone.id));
        }
        search_.draw_at_reading(context, "readings.find." + zone.id.text(), zone.id);
    }

    static Row row_of(const Session& session, std::size_t place, const Zone* hand) {
        const Job& job = session.job();
        const Derived& derived = session.derived();
        const Zone& zone = job.all<Zone>()[place];
        Row row;
        row.title = entered(name_of(job, zone.id));
        row.shape = Shape::readings;
        row.chevron = true;
        row.selected = hand && hand->id == zone.id;
        if (emergency_of(job, derived, zone.id) == tapwright::Answer::yes) {
            row.tone = Tone::stop;
            row.word = Message("Fire or emergency line");
            row.detail = Message("Leave it to qualified people.");
            return row;
        }
        if (const auto found = newest_at(job, zone.id, true)) {
            const std::uint32_t newest = *found;
            const VerdictWords words = verdict_words(derived.readings[newest]);
            row.value = reading_figure(job.all<Reading>()[newest]);
            row.tone = words.tone;
            row.word = words.word;
            row.detail = expected_words(derived.readings[newest], missing_for(job, derived, newest));
        } else {
            row.tone = Tone::note;
            row.word = Message("Not read yet");
            row.detail = derived.zones[place].speakers > 0 ? Message("Expected {ohms}, attenuators as left",
                                                                     {{"ohms", expected_of(derived.zones[place])}})
                                                           : Message("No loudspeaker recorded on it");
        }
        return row;
    }

    // Places other than zones that have a reading: one row each.
    void draw_others(Context& context, const Job& job) {
        std::vector<Id> seen;
        for (const Reading& reading : job.all<Reading>()) {
            if (!reading.at || job.find<Zone>(*reading.at)) continue;
            if (std::find(seen.begin(), seen.end(), *reading.at) != seen.end()) continue;
            if (seen.empty()) section_title(context, Message("At other places"));
            seen.push_back(*reading.at);
            Row row;
            row.title = entered(name_of(job, *reading.at));
            row.value = reading_figure(job.all<Reading>()[*newest_at(job, *reading.at, false)]);
            row.chevron = true;
            if (list_row(context, "readings.at." + reading.at->text(), row).tapped)
                context.requests.open(readings_at_screen(shared_, *reading.at));
        }
    }

    ReadingEntry entry_;
    FindFaultKey search_;
    ReconnectBoxes reconnect_;
};

class ReadingsAtScreen : public ScreenOfRecord {
public:
    ReadingsAtScreen(Shared& shared, Id at)
        : ScreenOfRecord(shared, std::move(at), Message("Readings")),
          entry_(shared),
          search_(shared),
          reconnect_(shared) {}
    bool shows_load(Context& context) override { return page_zone(context).zone != Id(); }
    void draw_foot(Context& context) override {
        if (context.session->job().find<Zone>(id_)) return draw_test_keys(context, {"at.test", "at.add"}, id_, entry_);
        const Measured usual = context.session->job().find<Room>(id_) ? Measured::level_dba : Measured::ohms;
        if (button(context, "at.add", Message("Take a reading"), {.kind = ButtonKind::primary, .shape = Shape::plus}))
            entry_.begin(context, id_, usual);
    }

private:
    Message title_of_record(Context&, const Job& job) override {
        return Message("Readings at {place}", {{"place", entered(name_of(job, id_))}});
    }
    void draw_record(Context& context, const Job& job) override {
        is_sought_ = false;
        if (!seen_.still(*context.session)) places_ = readings_at(job, id_);
        const Id line = line_of(*context.session, id_);
        if (is_emergency(*context.session)) statement_box(context, "at.stop", Tone::stop, leave_to_qualified(job, id_));
        reconnect_.draw(context, "at.reconnect", line);
        if (places_.empty())
            empty_state(context, Shape::readings, Message("Not read yet"),
                        Message("Touch the key below: the safety steps come first."));
        else if (const auto newest = newest_at(job, id_, true))
            draw_newest(context, *newest);
        if (job.find<Zone>(id_)) {
            section_title(context, Message("Load estimated from readings"));
            statement_box(context, "at.balance", Tone::plain,
                          statement_of(job, balance_of_zone(job, context.session->derived(), id_)));
            if (!is_sought_) search_.draw_at_unrecorded(context, "at.find_unrecorded", id_);
        }
        draw_chart(context);
        for (const std::uint32_t place : places_) draw_reading(context, place);
        entry_.draw(context);
    }
    bool has_record_foot(Context& context, const Job&) override { return !is_emergency(*context.session); }

    bool is_emergency(const Session& session) const {
        return emergency_of(session.job(), session.derived(), id_) == tapwright::Answer::yes;
    }

    void draw_newest(Context& context, std::size_t newest) {
        const Judgement& judgement = context.session->derived().readings[newest];
        const VerdictWords words = verdict_words(judgement);
        Card card(context, words.tone);
        big_number(context, "at.newest", reading_figure(context.session->job().all<Reading>()[newest]), Message(),
                   expected_words(judgement, missing_for(context.session->job(), context.session->derived(), newest)),
                   words.tone, words.word);
        statement_box(context, "at.verdict", words.tone,
                      statement_of(context.session->job(), context.session->derived(), newest));
        is_sought_ = search_.draw_at_reading(context, "at.find", id_);
    }

    void draw_chart(Context& context) {
        ChartData data;
        data.title = Message("Impedance over time");
        data.y_unit = Unit::ohm;
        data.joined = false;
        charted_.clear();
        for (std::size_t i = places_.size(); i-- > 0;) add_to_chart(*context.session, places_[i], data);
        if (data.points.size() < 2) return;
        data.x_first = day(context.session->job().all<Reading>()[charted_.front()]);
        data.x_last = day(context.session->job().all<Reading>()[charted_.back()]);
        if (const int tapped = chart(context, "at.chart", data); tapped >= 0)
            chosen_ = charted_[static_cast<std::size_t>(tapped)];
    }

    void add_to_chart(const Session& session, std::size_t place, ChartData& data) {
        const Reading& reading = session.job().all<Reading>()[place];
        if (reading.quantity != Measured::ohms || !reading.value) return;
        const Judgement& judgement = session.derived().readings[place];
        const VerdictWords words = verdict_words(judgement);
        if (place == chosen_) data.selected = static_cast<int>(data.points.size());
        data.points.push_back(
            {static_cast<double>(data.points.size()), *reading.value, words.tone,
             Message("{reading}: {verdict}", {{"reading", reading_figure(reading)},
                                              {"verdict", tapwright::Choice{"Verdict", word(judgement.verdict)}}})});
        charted_.push_back(place);
        if (!judgement.low || !judgement.high) return;
        data.has_band = true;
        data.band_low = judgement.low->value();
        data.band_high = judgement.high->value();
        data.band_word = Message("expected");
    }

    static Message day(const Reading& reading) {
        return reading.time ? Message(Day{reading.time->text.substr(0, 10)}) : Message();
    }

    static Message when(const Reading& reading) {
        const bool baseline = reading.baseline.value_or(false);
        if (!reading.time) return baseline ? Message("Day not recorded, baseline") : Message("Day not recorded");
        const Moment time{reading.time->text};
        return baseline ? Message("{time}, baseline", {{"time", time}}) : Message(time);
    }

    void draw_reading(Context& context, std::size_t place) {
        const Session& session = *context.session;
        const Reading& reading = session.job().all<Reading>()[place];
        const std::string id = reading.id.text();
        const VerdictWords words = verdict_words(session.derived().readings[place]);
        const bool is_ohms = reading.quantity == Measured::ohms;
        Row row;
        row.title = reading.quantity ? measured_title(*reading.quantity) : Message("Reading");
        row.detail = when(reading);
        row.value = reading_figure(reading);
        if (is_ohms) row.tone = words.tone, row.word = words.word;
        row.selected = chosen_ == place;
        if (list_row(context, "reading." + id, row).tapped)
            chosen_ = chosen_ == place ? std::nullopt : std::optional(place);
        if (chosen_ != place) return;
        Card card(context, row.tone);
        statement_box(context, "reading.verdict", row.tone, statement_of(session.job(), session.derived(), place));
        const bool baseline = reading.baseline.value_or(false);
        if (is_ohms &&
            toggle(context, "reading.baseline", Message("Baseline: compare later readings with this one"), baseline))
            shared_.ask(context, {setting(Kind::reading, reading.id, {{"baseline", !baseline}})},
                        baseline ? Message("Baseline removed") : Message("Baseline set"));
        if (button(context, "reading.details", Message("Meter, frequency, positions, notes")))
            context.requests.open(record_screen(shared_, Kind::reading, reading.id));
    }

    ReadingEntry entry_;
    FindFaultKey search_;
    ReconnectBoxes reconnect_;
    Seen<> seen_;
    std::vector<std::uint32_t> places_;  // the newest first
    std::vector<std::size_t> charted_;
    std::optional<std::size_t> chosen_;
    bool is_sought_ = false;  // the key to the search is on the page already
};

}  // namespace

Message reading_figure(const Reading& reading) {
    if (!reading.value && reading.over_range.value_or(false))
        return reading.range_ohm ? Message("over {figure}", {{"figure", *reading.range_ohm}}) : Message("over range");
    if (!reading.value || !reading.quantity) return Message("no figure");
    const Figure figure{*reading.value, unit_of_reading(*reading.quantity)};
    return reading.over_range.value_or(false) ? Message("over {figure}", {{"figure", figure}}) : Message(figure);
}

std::unique_ptr<Screen> readings_screen(Shared& shared) {
    return std::make_unique<ReadingsScreen>(shared);
}

std::unique_ptr<Screen> readings_at_screen(Shared& shared, const Id& at) {
    return std::make_unique<ReadingsAtScreen>(shared, at);
}

}  // namespace tapwright::ui
