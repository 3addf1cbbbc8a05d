// The load strip of the zone in hand: one line that opens to the whole of it, where a block opens its loudspeaker and
// another zone is chosen. A wide window has room for the whole at once.
#include <utility>

#include "ui/drawings/load_strip.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/find_fault_key.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

class Strip : public LoadStrip {
public:
    explicit Strip(Shared& shared) : LoadStrip(shared, Message("Load")), search_(shared) {}
    void draw(Context& context) override {
        look(context);
        if (shown_) answer(context, load_strip(context, "strip", *shown_));
    }
    void draw_line(Context& context, float height) override {
        look(context);
        if (shown_ && load_line(context, "strip", *shown_, height)) open_ = true;
    }
    void draw_open(Context& context) override {
        const Job& job = context.session->job();
        if (!shown_ || !job.find<Zone>(shown_zone_)) open_ = false;
        Sheet sheet(context, "load", Message("Load"), open_);
        if (!sheet || !shown_) return;
        LoadStripData data = *shown_;
        data.compact = false;
        answer(context, load_strip(context, "load.strip", data));
        const std::size_t opened = context.requests.opened.size();
        search_.draw_at_unrecorded(context, "load.find", shown_zone_);
        if (context.requests.opened.size() > opened) open_ = false;
        if (!is_settled_) draw_zones(context, job);
    }

private:
    void look(Context& context) {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        shown_ = nullptr;
        if (!zone) return;
        shown_zone_ = zone->id;
        is_settled_ = shared_.page.is_settled;
        const std::shared_ptr<const Proposal> tried = std::exchange(shared_.tried, nullptr);
        const bool there = tried && tried->job.find<Zone>(zone->id);
        const auto as_it_is = [&] { return data_of(context, job, context.session->derived(), zone->id, nullptr); };
        if (there) {
            recorded_.forget();
            tried_ = data_of(context, tried->job, tried->derived, zone->id, &job);
        }
        shown_ = there ? &tried_ : &recorded_.of(*context.session, zone->id, shared_.point, context.wide, as_it_is);
    }

    // The page shows another zone from then on, until another is chosen.
    void draw_zones(Context& context, const Job& job) {
        if (job.count(Kind::zone) < 2) return;
        if (job.count(Kind::zone) > most_keys) {
            Row row;
            row.title = Message("Another zone");
            row.chevron = true;
            if (!list_row(context, "load.zones", row).tapped) return;
            open_ = false;
            return pick_zone_in_hand(context, shared_);
        }
        section_title(context, Message("Work on"));
        const OnlyLooks looks(context);
        std::vector<Choice> choices;
        int chosen = -1;
        for (const Zone& zone : job.all<Zone>()) {
            if (zone.id == shown_zone_) chosen = static_cast<int>(choices.size());
            choices.push_back({entered(name_of(job, zone.id))});
        }
        const OnlyLooks chooses_what_is_shown(context);
        const int tapped = choice_row(context, "load.zone", choices, chosen);
        if (tapped < 0) return;
        shared_.zone = job.all<Zone>()[static_cast<std::size_t>(tapped)].id;
        open_ = false;
    }

    // A block that was touched opens its loudspeaker; the rest of the strip opens what can be chosen.
    void answer(Context& context, const LoadStripTouch& touch) {
        const Job& job = context.session->job();
        const bool on_point = touch.block >= 0 && static_cast<std::size_t>(touch.block) < points_.size();
        if (on_point && job.find<Point>(points_[static_cast<std::size_t>(touch.block)])) {
            open_ = false;
            shared_.point = points_[static_cast<std::size_t>(touch.block)];
            context.requests.open(point_screen(shared_, shared_.point));
        } else if (touch.tapped && !open_) {
            open_ = true;
        }
    }

    // `real`: the job as it is, where `job` is a trial's; what differs from it is drawn as tried.
    LoadStripData data_of(Context& context, const Job& job, const Derived& derived, const Id& zone, const Job* real) {
        const std::uint32_t place = *job.place<Zone>(zone);
        const ZoneState& state = derived.zones[place];
        const HeadroomWords words = headroom_words(job, derived, place);
        LoadStripData data;
        data.title =
            real ? Message("{zone}, tried", {{"zone", entered(name_of(job, zone))}}) : entered(name_of(job, zone));
        data.headroom = state.low_impedance ? Message(code("-")) : words.figure;
        data.headroom_word = state.low_impedance ? Message("low impedance: no tap sum") : words.word;
        data.load = load_words(state.margin);
        data.tone = state.low_impedance ? Tone::plain : words.tone;
        data.compact = !context.wide;
        if (state.margin.limit) data.limit_w = state.margin.limit->value();
        if (state.margin.reserve) data.reserve_w = state.margin.reserve->value();
        points_.clear();
        for (std::size_t i = 0; i < derived.points.size(); ++i) {
            if (derived.points[i].zone != place || !derived.points[i].drawn) continue;
            const Point& point = job.all<Point>()[i];
            points_.push_back(point.id);
            data.blocks.push_back({point.id.text(), entered(name_of(job, point.id)), derived.points[i].drawn->value(),
                                   kind_of(point, real), point.id == shared_.point});
        }
        if (state.margin.unrecorded > Watts(0))
            data.blocks.push_back({"unrecorded", Message("{watts} not recorded", {{"watts", state.margin.unrecorded}}),
                                   state.margin.unrecorded.value(), LoadBlock::Kind::unrecorded, false});
        if (state.margin.unrecorded > Watts(0) && data.tone == Tone::good)
            data.tone = Tone::warning;  // nobody has found it
        const std::optional<Tightest> source = tightest_source(derived, place);
        if (!source) return data;
        const HeadroomWords below = headroom_words(source->margin);
        data.amplifier = amplifier_words(job, *source);
        data.amplifier_load_w = source->margin.load.value();
        if (source->margin.limit) data.amplifier_limit_w = source->margin.limit->value();
        data.amplifier_tone = below.tone == Tone::note ? Tone::plain : below.tone;
        return data;
    }

    static LoadBlock::Kind kind_of(const Point& point, const Job* real) {
        const Point* as_is = real ? real->find<Point>(point.id) : nullptr;
        const bool differs = as_is && (as_is->tap_w != point.tap_w || as_is->planned_tap_w != point.planned_tap_w ||
                                       as_is->fed_from != point.fed_from);
        if (real && (!as_is || differs)) return LoadBlock::Kind::trial;
        return point.tap_w ? LoadBlock::Kind::recorded : LoadBlock::Kind::planned;
    }

    static constexpr std::size_t most_keys = 12;
    std::vector<Id> points_;                // of the blocks
    const LoadStripData* shown_ = nullptr;  // in this frame
    LoadStripData tried_;
    Id shown_zone_;
    bool is_settled_ = false, open_ = false;
    Cached<LoadStripData, Id, Id, bool> recorded_;
    FindFaultKey search_;
};

}  // namespace

std::unique_ptr<LoadStrip> strip_screen(Shared& shared) {
    return std::make_unique<Strip>(shared);
}

}  // namespace tapwright::ui
