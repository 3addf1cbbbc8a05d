// What is to be added to a zone, tried as it is or with the taps that make room for it.
#include <iterator>
#include <map>

#include "core/calc/emergency.h"
#include "core/job/field_text.h"
#include "core/plan/fit.h"
#include "core/plan/trial.h"
#include "core/units/unit.h"
#include "core/words/fit_text.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/cautions.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/lines/trials.h"

namespace tapwright::ui {
namespace {

constexpr int most_added = 60;
constexpr Aim all_aims[] = {Aim::fewest, Aim::level, Aim::wanted};
constexpr Pattern aim_words[] = {Pattern("Fewest loudspeakers to re-tap"), Pattern("Levels closest to today's"),
                                 Pattern("Levels closest to wanted")};

class TrialAdding : public TitledScreen {
public:
    TrialAdding(Shared& shared, Id trial)
        : TitledScreen(shared, Message("Add loudspeakers")), trial_(std::move(trial)) {}
    bool shows_load(Context&) override { return true; }
    void draw(Context& context) override {
        const Zone* zone = shared_.zone_in_hand(context.session->job());
        if (!zone || context.session->job().all<SpeakerType>().empty())
            return empty_state(context, Shape::loudspeaker, Message("Nothing to add yet"),
                               Message("Record the zone and a loudspeaker type with its taps first."));
        zone_row(context, shared_, "adding.zone");
        // The trial so far and what is to come are worked out in a frame each.
        const bool stands = stand_on_trial(*context.session);
        if (!stands) context.requests.another_frame();
        const Job& job = this->job(*context.session);
        if (!job.has(Kind::zone, zone->id))
            return tone_box(context, "adding.problem", Tone::stop,
                            Message("The trial removes this zone. Choose another."));
        if (!may_be_touched(context, zone->id)) return;
        draw_what(context, job);
        draw_where(context, job, zone->id);
        const Id places[] = {zone->id, room_};
        caution_box(context, shared_, "adding.caution", CautionMoment::adding,
                    std::span(places, room_ == Id() ? 1U : 2U));
        if (!stands) return;
        look(context, zone->id);
        if (!fit_) return tone_box(context, "adding.problem", Tone::stop, problem_);
        draw_as_it_is(context, job);
        section_title(context, Message("Ways to make room"));
        draw_left(context, job);
        if (fit_->options.empty()) statement_box(context, "adding.missing", Tone::stop, answer_);
        for (const FitOption& option : fit_->options) draw_option(context, job, option);
        for (const auto& remark : fit_->remarks) quiet_paragraph(context, remark);
    }

private:
    // What the answer is worked out from, beside the job.
    struct Asked {
        Id zone, type, room;
        std::optional<Id> feed;
        std::optional<Watts> tap;
        int count = 1;
        std::vector<Id> left;
        friend bool operator==(const Asked&, const Asked&) = default;
    };

    // A line that was there before may belong to the fire alarm: the question comes before any figure.
    bool may_be_touched(Context& context, const Id& zone) {
        const Session& session = *context.session;
        const bool is_one = emergency_of(session.job(), session.derived(), zone) == tapwright::Answer::yes;
        if (!is_one && !must_ask_before_adding(session.job(), session.derived(), zone)) return true;
        return settle_emergency(context, shared_, "adding.emergency", zone);
    }

    // What is added comes to what the trial has already. Returns: whether that was known before this frame.
    bool stand_on_trial(const Session& session) {
        if (stood_.still(session)) return true;
        tried_.reset();
        const Trial* trial = session.job().find<Trial>(trial_);
        if (!trial || !trial->changes || trial->changes->empty()) return true;
        Result<Proposal> proposal = session.propose(
            Command{.changes =
                        trial_changes(session.job(), with_free_ids(session.job(), *trial->changes,
                                                                   [&](const Id& id) { return session.was_used(id); })),
                    .fill_in = true,
                    .place = {}},
            shared_.author(), shared_.stamp());
        if (proposal) tried_ = std::make_shared<const Proposal>(std::move(*proposal));
        return false;
    }
    const Job& job(const Session& session) const { return tried_ ? tried_->job : session.job(); }
    const Derived& derived(const Session& session) const { return tried_ ? tried_->derived : session.derived(); }

    // The room they hang in, and the point they are fed from: behind an attenuator they are turned down with it.
    void draw_where(Context& context, const Job& job, const Id& zone) {
        if (zone != zone_) {
            zone_ = zone;
            left_.clear();
            room_ = serves(context, zone, shared_.room) ? shared_.room : Id();
            feed_.reset();
        }
        Row room;
        room.title = Message("Room");
        room.value = job.has(Kind::room, room_) ? entered(name_of(job, room_)) : Message("Not chosen");
        room.chevron = true;
        if (list_row(context, "adding.room", room).tapped) pick_room(context);
        const Id feed = feed_now(*context.session, zone);
        Row from;
        from.title = Message("Fed from");
        from.value = feed == zone ? Message("terminals of {zone}", {{"zone", entered(name_of(job, zone))}})
                                  : Message(entered(name_of(job, feed)));
        from.chevron = true;
        if (list_row(context, "adding.feed", from).tapped) pick_feed(context);
    }

    bool serves(Context& context, const Id& zone, const Id& room) const {
        const Job& all = job(*context.session);
        const auto place = all.place<Zone>(zone);
        const auto points = all.all<Point>();
        for (std::size_t i = 0; i < points.size() && place; ++i)
            if (points[i].room == room && derived(*context.session).points[i].zone == *place) return true;
        return false;
    }

    // As chosen, else where the room's branch ends, else the zone.
    Id feed_now(const Session& session, const Id& zone) const {
        if (feed_ && job(session).kind_of(*feed_)) return *feed_;
        return branch_end(job(session), derived(session), zone, room_).value_or(zone);
    }

    void pick_room(Context& context) {
        PickOptions options;
        options.title = Message("Room");
        options.kinds = {Kind::room};
        options.current = room_;
        context.requests.open(pick_screen(shared_, options, [this](Context&, const Id& picked) {
            room_ = picked;
            feed_.reset();
        }));
    }

    void pick_feed(Context& context) {
        PickOptions options;
        options.title = Message("Fed from");
        options.kinds = {Kind::zone, Kind::point};
        options.may_be_none = false;
        context.requests.open(pick_screen(shared_, options, [this](Context&, const Id& picked) { feed_ = picked; }));
    }

    std::function<Id()> id_maker() const {
        auto ids = std::make_shared<IdMaker>(shared_.stamp().seed);
        return [ids] { return ids->make(Kind::point); };
    }

    void draw_what(Context& context, const Job& job) {
        const SpeakerType* type = job.find<SpeakerType>(type_);
        if (!type) {
            type = job.find<SpeakerType>(shared_.speaker_type);
            if (!type) type = &job.all<SpeakerType>().front();
            type_ = type->id;
        }
        std::vector<Choice> choices;
        int chosen = -1;
        for (const SpeakerType& each : job.all<SpeakerType>()) {
            if (each.id == type_) chosen = static_cast<int>(choices.size());
            choices.push_back({entered(name_of(job, each.id))});
        }
        int tapped = choice_row(context, "adding.type", choices, chosen);
        if (tapped >= 0) {
            type_ = job.all<SpeakerType>()[static_cast<std::size_t>(tapped)].id;
            tap_.reset();
        }
        count_ += stepper(context, "adding.count", Message("How many"), Count{count_}, count_ > 1, count_ < most_added);
        choices = {{Message("Any tap")}};
        chosen = tap_ ? -1 : 0;
        const std::vector<Watts> taps = type->taps_w.value_or(std::vector<Watts>());
        for (const Watts tap : taps) {
            if (tap_ == tap) chosen = static_cast<int>(choices.size());
            choices.push_back({tap});
        }
        tapped = choice_row(context, "adding.tap", choices, chosen);
        if (tapped == 0) tap_.reset();
        if (tapped > 0) tap_ = taps[static_cast<std::size_t>(tapped - 1)];
    }

    // One aim a frame.
    void look(Context& context, const Id& zone) {
        const Session& session = *context.session;
        if (!asked_.still(session, {zone, type_, room_, feed_, tap_, count_, left_})) begin(session, zone);
        if (aims_done_ == std::size(all_aims)) return;
        FitRequest step = request_;
        step.aims = {all_aims[aims_done_++]};
        Result<Fit> made = fit(job(session), derived(session), step);
        if (!made) {
            problem_ = made.refusal().message;
            aims_done_ = std::size(all_aims);
            return;
        }
        take(session, std::move(*made));
        if (aims_done_ < std::size(all_aims)) context.requests.another_frame();
    }

    void begin(const Session& session, const Id& zone) {
        fit_.reset();
        aims_done_ = 0;
        request_ = {};
        request_.zone = zone;
        FitAddition addition;
        addition.type = type_;
        addition.count = static_cast<std::size_t>(count_);
        addition.tap = tap_;
        const Job& all = job(session);
        if (all.has(Kind::room, room_)) addition.room = room_;
        const Id feed = feed_now(session, zone);
        if (feed != zone) addition.fed_from = feed;
        request_.add = {addition};
        for (const Id& point : left_)
            if (all.has(Kind::point, point)) request_.leave.push_back(point);
    }

    // What cannot be done cannot be done for any aim. What was taken as it is, is the same for each.
    void take(const Session& session, Fit made) {
        if (!fit_) {
            fit_ = std::move(made);
            if (fit_->options.empty()) aims_done_ = std::size(all_aims);
            answer_ = statement_of(job(session), request_, *fit_);
            return;
        }
        if (!made.options.empty() && !made.options.back().is_proven)
            fit_->remarks.push_back(std::move(made.remarks.back()));
        for (FitOption& option : made.options) fit_->options.push_back(std::move(option));
    }

    // As asked for, whatever it does: what exists must be recordable, and what is wished must be seen.
    void draw_as_it_is(Context& context, const Job& job) {
        if (!tap_) return;
        if (!button(context, "adding.plain",
                    plural("Try {count} loudspeaker on {tap} without re-tapping",
                           "Try {count} loudspeakers on {tap} without re-tapping", count_, {{"tap", *tap_}}),
                    {.shape = Shape::loudspeaker}))
            return;
        FitOption plain;
        for (int i = 0; i < count_; ++i) plain.added.push_back({0, *tap_});
        add_to_trial(context, shared_, trial_, changes_of(job, request_, plain, id_maker()),
                     plural("{count} loudspeaker on {tap} tried", "{count} loudspeakers on {tap} tried", count_,
                            {{"tap", *tap_}}));
        context.requests.back();
    }

    void draw_option(Context& context, const Job& job, const FitOption& option) {
        const std::string name = "adding.option." + std::string(word(option.aim));
        Card card(context);
        const Message aim(aim_words[static_cast<std::size_t>(option.aim)]);
        const About about(context.marks, context.words.text(aim));
        section_title(context, aim);
        label_value(context, name + ".visits", Message("Loudspeakers to re-tap"),
                    Count{static_cast<std::int64_t>(option.visits)});
        label_value(context, name + ".worst",
                    option.aim == Aim::wanted ? Message("Farthest from wanted level") : Message("Largest level change"),
                    worst_of(job, option));
        label_value(context, name + ".load", Message("Zone load then"), load_of(option));
        draw_added(context, name, option);
        for (const FitChange& change : option.changes) draw_change(context, job, name, change);
        if (!button(context, name, Message("Try this"), {.kind = ButtonKind::primary, .shape = Shape::check})) return;
        add_to_trial(context, shared_, trial_, changes_of(job, request_, option, id_maker()),
                     Message("{aim}: tried", {{"aim", Message(aim_words[static_cast<std::size_t>(option.aim)])}}));
        context.requests.back();
    }

    static Message load_of(const FitOption& option) {
        const std::vector<Named> figures{{"load", option.load},
                                         {"unrecorded", option.unrecorded},
                                         {"watts", rounded_down(option.headroom.value_or(Watts(0)))}};
        if (option.unrecorded > Watts(0))
            return Message(Pattern("{load} and {unrecorded} unrecorded, {watts} headroom"), figures);
        return Message(Pattern("{load}, {watts} headroom"), figures);
    }

    // What is written about it stands before the change; touched, it is left as it is.
    void draw_change(Context& context, const Job& job, const std::string& name, const FitChange& change) {
        const Point& point = *job.find<Point>(change.point);
        Row row;
        row.title = entered(name_of(job, change.point));
        row.detail = sentences(
            {about_re_tapped(point), Message("{from} to {to}, {change}",
                                             {{"from", change.from}, {"to", change.to}, {"change", change.change}})});
        row.value = Message("Leave");
        if (list_row(context, name + "." + change.point.text(), row).tapped) left_.push_back(change.point);
    }

    // Those to be left as they are; touched, one may be re-tapped again.
    void draw_left(Context& context, const Job& job) {
        for (std::size_t i = 0; i < left_.size(); ++i) {
            if (!job.has(Kind::point, left_[i])) continue;
            Row row;
            row.title = Message("{point} left as it is", {{"point", entered(name_of(job, left_[i]))}});
            row.value = Message("May change");
            if (!list_row(context, "adding.left." + left_[i].text(), row).tapped) continue;
            left_.erase(left_.begin() + static_cast<std::ptrdiff_t>(i));
            return;
        }
    }

    static Message worst_of(const Job& job, const FitOption& option) {
        if (option.worst == Decibels(0)) return Message("none");
        if (!option.worst_at) return Message("{change} at the new ones", {{"change", option.worst}});
        return Message("{change} at {point}",
                       {{"change", option.worst}, {"point", entered(name_of(job, *option.worst_at))}});
    }

    static void draw_added(Context& context, const std::string& name, const FitOption& option) {
        if (option.added.empty()) return;
        std::map<Watts, std::int64_t> counts;
        for (const FitAdded& each : option.added) ++counts[each.tap];
        std::vector<Message> taps;
        taps.reserve(counts.size());
        for (const auto& [tap, count] : counts)
            taps.push_back(plural("{count} on {tap}", "{count} on {tap}", count, {{"tap", tap}}));
        label_value(context, name + ".added", Message("New loudspeakers"), series(taps));
    }

    Id trial_, type_;
    int count_ = 1;
    std::optional<Watts> tap_;
    Seen<Asked> asked_;
    Message problem_;   // why there is no answer
    Statement answer_;  // for people
    FitRequest request_;
    std::size_t aims_done_ = 0;
    std::optional<Fit> fit_;
    Id zone_, room_;
    std::vector<Id> left_;                   // loudspeakers of the zone that keep their taps
    std::optional<Id> feed_;                 // as chosen by hand
    std::shared_ptr<const Proposal> tried_;  // the job with what the trial has so far; null: nothing yet
    Seen<> stood_;
};

}  // namespace

std::unique_ptr<Screen> trial_adding_screen(Shared& shared, const Id& trial) {
    return std::make_unique<TrialAdding>(shared, trial);
}

}  // namespace tapwright::ui
