// The load strip of the zone in hand, always in sight; a touch opens a block or chooses another zone.
#include <utility>

#include "ui/drawings/load_strip.h"
#include "ui/screens/common/cached.h"
#include "ui/screens/common/forms.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"

namespace tapwright::ui {
namespace {

class Strip : public TitledScreen {
public:
    explicit Strip(Shared& shared) : TitledScreen(shared, Message("Load")) {}
    void draw(Context& context) override {
        const Job& job = context.session->job();
        const Zone* zone = shared_.zone_in_hand(job);
        if (!zone) return;
        const std::shared_ptr<const Proposal> tried = std::exchange(shared_.tried, nullptr);
        const bool there = tried && tried->job.find<Zone>(zone->id);
        const auto as_it_is = [&] { return data_of(context, job, context.session->derived(), zone->id, nullptr); };
        if (there) recorded_.forget();
        const LoadStripTouch touch =
            load_strip(context, "strip",
                       there ? data_of(context, tried->job, tried->derived, zone->id, &job)
                             : recorded_.of(*context.session, zone->id, shared_.point, context.wide, as_it_is));
        const bool on_point = touch.block >= 0 && static_cast<std::size_t>(touch.block) < points_.size();
        if (on_point && job.find<Point>(points_[static_cast<std::size_t>(touch.block)])) {
            shared_.point = points_[static_cast<std::size_t>(touch.block)];
            context.requests.open(point_screen(shared_, shared_.point));
        } else if (touch.tapped && job.count(Kind::zone) > 1) {
            pick_zone_in_hand(context, shared_);
        }
    }

private:
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

    std::vector<Id> points_;  // of the blocks
    Cached<LoadStripData, Id, Id, bool> recorded_;
};

}  // namespace

std::unique_ptr<Screen> strip_screen(Shared& shared) {
    return std::make_unique<Strip>(shared);
}

}  // namespace tapwright::ui
